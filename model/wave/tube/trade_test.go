package tube

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// What the trade says of absorbers (common practice, no source), held to the solver as
// far as theory carries it; the rest is logged.

// Bare wool absorbs where the velocity is high, so it does more a quarter wave off a wall than on
// it. A heavy film over a closed cushion absorbs where the pressure is high, so it is the other way
// round. The stacks of package material say by how much.
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
		s := hardTube(air)
		x := s.Size.X - stack.Depth()
		s.Porous = []scene.Porous{{Min: r3.Vec{X: x}, Max: r3.Vec{X: x + 0.1, Y: 0.1, Z: 0.1}, PorousVolume: wavetest.Wool(air, 6e3)}}
		if sheet > 0 {
			s.Films = []scene.Film{{Min: r3.Vec{X: x}, Max: r3.Vec{X: x, Y: 0.1, Z: 0.1}, SurfaceMass: sheet}}
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
