package absorb

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
)

func TestSectionGolden(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	markup, err := newSection(&a, 0).SVG()
	if err != nil {
		t.Fatal(err)
	}
	reporttest.Golden(t, "section.svg", string(markup)+"\n")
}

// Wool and gaps are to scale, one scale for the whole comparison; a film is widened,
// about where it is.
func TestSectionToScale(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	var scales []float64
	for i := range a.BuildUps {
		var solid svg.Shape
		n := 0
		layers := a.BuildUps[i].Layers
		var edge float64 // of the layers so far, m
		var found []svg.Shape
		for _, s := range newSection(&a, i).Shapes {
			switch s.Class {
			case "wool", "air", "film":
				found = append(found, s)
			case "solid":
				solid = s
			}
		}
		if len(found) != len(layers) {
			t.Fatalf("%d layers are drawn as %d", len(layers), len(found))
		}
		for _, s := range found {
			l := layers[n]
			if s.Class != "film" {
				scales = append(scales, float64(s.X2)/l.Thickness)
			} else if float64(s.X2) < sheetWidth {
				t.Errorf("the film is %v wide", s.X2)
			}
			middle := a.BuildUps[i].Depth - edge - l.Thickness/2
			if got := float64(solid.X-s.X) - float64(s.X2)/2; math.Abs(got-middle*scales[0]) > 0.01 {
				t.Errorf("layer %d of %s stands %v before the wall, want %v", n+1, a.letter(i), got, middle*scales[0])
			}
			edge += l.Thickness
			n++
		}
	}
	for _, s := range scales {
		if math.Abs(s-scales[0]) > 1e-6 {
			t.Errorf("scales %v", scales)
		}
	}
}

// Whatever the layers, nothing is drawn outside the picture, every layer has its
// number in the key, and no number covers another.
func TestSectionOfAnything(t *testing.T) {
	kinds := []model.LayerKind{model.PorousLayer, model.FilmLayer, model.GapLayer, model.PanelLayer, model.PerforatedLayer}
	rapid.Check(t, func(t *rapid.T) {
		a := Report{BuildUps: make([]BuildUp, 1)}
		b := &a.BuildUps[0]
		for range rapid.IntRange(1, 24).Draw(t, "layers") {
			l := model.Layer{Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Thickness: rapid.Float64Range(0, 0.3).Draw(t, "thickness")}
			b.Layers, b.Depth = append(b.Layers, l), b.Depth+l.Thickness
		}
		d := newSection(&a, 0)
		numbers := 0
		var last svg.Rectangle
		for _, s := range d.Shapes {
			r := svg.RectAt(float64(s.X), float64(s.Y), 0, 0)
			switch s.Kind {
			case "rect":
				r.W, r.H = float64(s.X2), float64(s.Y2)
			case "text":
				w := svg.TextWidth(s.Text) // texts of a section are centred and level
				r = svg.RectAt(r.X-w/2, r.Y-5.5, w, 11)
			case "path":
				continue
			}
			if r.X < -2 || r.Y < 0 || r.X+r.W > sectionWidth+2 || r.Y+r.H > sectionHeight {
				t.Fatalf("%+v lies outside", s)
			}
			if s.Class == "letter" {
				numbers++
				if last.Overlap(r) > 1 {
					t.Fatalf("number %s covers the one before", s.Text)
				}
				last = r
			}
		}
		if numbers != len(b.Layers) || len(d.Key) != len(b.Layers) {
			t.Fatalf("%d layers, %d numbers, %d in the key", len(b.Layers), numbers, len(d.Key))
		}
	})
}
