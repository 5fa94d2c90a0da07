package absorption

import (
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/phrase"
)

// Nominal and exact mid-band frequencies of third octaves (IEC 61260-1:2014, annex E
// and eq. 2), and that the grid meets the middle and both edges of each.
func TestThirdOctaveFrequencies(t *testing.T) {
	t.Parallel()
	want := []float64{
		25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
		1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000,
	}
	grid := absorptionGrid()
	for i, n := 0, firstBand; n <= lastBand; i, n = i+1, n+1 {
		if got := nominal(n); got != want[i] {
			t.Errorf("band %d is called %v Hz, want %v", n, got, want[i])
		}
		exact := math.Pow(10, float64(n)/10)
		for _, f := range []float64{exact * math.Pow(10, -0.05), exact, exact * math.Pow(10, 0.05)} {
			if got := grid[grid.Nearest(f)]; math.Abs(got/f-1) > 1e-12 {
				t.Errorf("band %d: the grid has %v Hz, want %v", n, got, f)
			}
		}
	}
}

// The mean over a band of what is even is that, and of what is straight over the
// logarithm of frequency the value in the middle; a mean keeps low, typical and high
// apart.
func TestThirdOctaveMeans(t *testing.T) {
	t.Parallel()
	grid := absorptionGrid()
	f := absorber.Curves{Grid: grid}
	for _, hz := range grid {
		f.Normal = append(f.Normal, material.Span{Low: 0.25, Typical: 0.5, High: 0.75})
		f.Random = append(f.Random, material.Span{Typical: math.Log10(hz) / 4})
	}
	for i, b := range thirdOctaves(&f) {
		exact := float64(firstBand+i) / 10
		if b.Normal != (material.Span{Low: 0.25, Typical: 0.5, High: 0.75}) || math.Abs(b.Random.Typical-exact/4) > 1e-12 {
			t.Errorf("%v Hz: %+v", b.Frequency, b)
		}
	}
}

// A narrow resonance counts by its mean: over the band of 63 Hz that of a panel on its
// cavity is well below the peak, and well above the value at its edge.
func TestThirdOctaveOfResonance(t *testing.T) {
	t.Parallel()
	s := Sample{Layers: []model.Layer{
		{Kind: model.PanelLayer, Text: "board", SurfaceMass: 8.8, Damping: 150}, {Kind: model.GapLayer, Text: "air", Thickness: 0.1},
	}}
	b, err := s.BuildUp()
	if err != nil {
		t.Fatal(err)
	}
	peak := b.Figure.Normal[b.Figure.Grid.Nearest(b.Figure.Resonances[0].Frequency)].Typical
	edge := b.Figure.Normal[b.Figure.Grid.Nearest(56.2)].Typical
	if mean := b.Bands[4].Normal.Typical; b.Bands[4].Frequency != 63 || mean < 1.3*edge || mean > 0.9*peak {
		t.Errorf("mean over 63 Hz %.3f, peak %.3f, at the edge %.3f", mean, peak, edge)
	}
}

func BenchmarkBuildUp(b *testing.B) {
	layers, err := phrase.Layers("wool 50 mm 10 kPa·s/m², film 100 µm, wool 200 mm 6 kPa·s/m²")
	if err != nil {
		b.Fatal(err)
	}
	s := Sample{Layers: layers}
	for b.Loop() {
		if _, err := s.BuildUp(); err != nil {
			b.Fatal(err)
		}
	}
}
