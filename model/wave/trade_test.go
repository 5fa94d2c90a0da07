package wave

import (
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/material/absorber"

	"gonum.org/v1/gonum/spatial/r3"
)

// What the trade says of absorbers (common practice, no source), held to the solver as
// far as theory carries it; the rest is logged.

// Bare wool wants velocity, so a quarter wave off a wall it beats itself on the wall; a
// heavy film over a closed cushion wants pressure, so it is the other way round. The
// stacks of package material say by how much.
func TestPressureAndVelocity(t *testing.T) {
	t.Parallel()
	const f = 100.0
	air := model.AirAt(0)
	quarter := math.Round(air.Speed/f/4*10) / 10 // whole cells
	piece := func(sheet, gap float64) float64 {
		layers := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6e3}}
		if sheet > 0 {
			layers = append([]model.Layer{{Kind: model.FilmLayer, SurfaceMass: sheet}}, layers...)
		}
		if gap > 0 {
			layers = append(layers, model.Layer{Kind: model.GapLayer, Thickness: gap})
		}
		stack, _, err := absorber.NewStack(layers, &absorber.Options{Air: air})
		if err != nil {
			t.Fatal(err)
		}
		s := tube(air)
		x := s.Size.X - stack.Depth()
		s.Porous = []Porous{{Min: r3.Vec{X: x}, Max: r3.Vec{X: x + 0.1, Y: 0.1, Z: 0.1}, PorousVolume: wool(air, 6e3)}}
		if sheet > 0 {
			s.Films = []Film{{Min: r3.Vec{X: x}, Max: r3.Vec{X: x, Y: 0.1, Z: 0.1}, SurfaceMass: sheet}}
		}
		got := measure(t, s, model.Grid{f, 300}, 0.1, stack.Depth())[0]
		if want := stack.NormalAbsorption(f); math.Abs(got-want) > 0.03 {
			t.Errorf("sheet %v kg/m², gap %v m: absorption %.3f, want %.3f", sheet, gap, got, want)
		}
		return got
	}
	for _, test := range []struct {
		name   string
		sheet  float64 // kg/m²
		onWall bool    // where it is to absorb more
	}{{"bare wool", 0, false}, {"wool behind 2 kg/m²", 2, true}} {
		wall, off := piece(test.sheet, 0), piece(test.sheet, quarter)
		t.Logf("%s at %g Hz: absorption %.2f on the wall, %.2f at %.1f m from it", test.name, f, wall, off, quarter)
		if (wall > off) != test.onWall {
			t.Errorf("%s: absorption %.2f on the wall, %.2f a quarter wave off", test.name, wall, off)
		}
	}
}

// More wool takes no damping from any mode, by energy: a second layer behind the seat
// damps the modes along the room, and fills in all four upright corners damp most.
func TestMoreWoolDampsMore(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 3.2, Y: 2.4, Z: 2}
	layer := func(depth float64) []Porous {
		return []Porous{{Min: r3.Vec{X: size.X - depth}, Max: size, PorousVolume: wool(checkAir, 6e3)}}
	}
	var corners []Porous
	for _, x := range []float64{0, size.X - 0.4} {
		for _, y := range []float64{0, size.Y - 0.4} {
			corners = append(corners, Porous{Min: r3.Vec{X: x, Y: y}, Max: r3.Vec{X: x + 0.4, Y: y + 0.4, Z: size.Z}, PorousVolume: wool(checkAir, 6e3)})
		}
	}
	modes := [][3]int{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {2, 0, 0}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}}
	damping := func(pieces []Porous) []float64 {
		s := Scene{Size: size, Air: checkAir, Porous: pieces}
		for f := range s.Walls {
			s.Walls[f] = Resistive(0.01, checkAir)
		}
		run := ringOut(t, s, 0.2)
		var list []float64
		for _, n := range modes {
			list = append(list, run.damping(n))
		}
		return list
	}
	bare, single, double, filled := damping(nil), damping(layer(0.2)), damping(layer(0.4)), damping(corners)
	most := 0
	for i, n := range modes {
		t.Logf("mode %v: damping %.1f 1/s bare, %.1f with 200 mm behind, %.1f with 400 mm, %.1f with corner fills", n, bare[i], single[i], double[i], filled[i])
		if filled[i] > 1.3*bare[i] {
			most++
		}
		if n[0] > 0 && !(double[i] > single[i] && single[i] > bare[i]) {
			t.Errorf("mode %v: damping %.1f, %.1f, %.1f 1/s with 0, 200, 400 mm behind", n, bare[i], single[i], double[i])
		}
	}
	if most <= len(modes)/2 {
		t.Errorf("corner fills damp %d of %d modes by a third more", most, len(modes))
	}
}

// damping returns how fast what has the shape of a mode dies away, 1/s: between the
// first and the second quarter of a second after the pulse.
func (r rung) damping(n [3]int) float64 {
	series := r.shaped(n)
	quarter := min(int(0.25/(float64(r.every)*r.step)), len(series)/2)
	var first, second float64
	for i := range quarter {
		first += series[i] * series[i]
		second += series[quarter+i] * series[quarter+i]
	}
	return math.Log(first/second) / (2 * float64(quarter*r.every) * r.step)
}
