package draw

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/materialtest"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/tube"
	"evenbass/model/wave/wavetest"
)

// Warnings about a single treatment in a hard box of whole cells. TestTube of package tube
// shows against transfer matrices that the error stays below 0.03 where there is no warning.
func TestReportError(t *testing.T) {
	t.Parallel()
	film := model.Layer{Kind: model.FilmLayer, SurfaceMass: 0.09}
	heavy := model.Layer{Kind: model.FilmLayer, SurfaceMass: 0.4}
	standing := func(y, depth float64) model.Block {
		return model.Block{Min: r3.Vec{X: 0.8, Y: y}, Max: r3.Vec{X: 1.6, Y: y + depth, Z: 0.6}}
	}
	onWall := model.Patch{Face: model.Left, Width: 2, Height: 1.2}
	for _, test := range []struct {
		name string
		t    model.Treatment
		want string // "" is silence
	}{
		{"usual layer", model.Treatment{Patch: onWall, Layers: []model.Layer{materialtest.Wool(6e3, 0.1)}}, ""},
		{"usual layer on a gap", model.Treatment{Patch: onWall, Layers: []model.Layer{materialtest.Wool(12e3, 0.1), {Kind: model.GapLayer, Thickness: 0.05}}}, ""},
		{"cloud", model.Treatment{Form: model.UnderCeiling, Gap: 0.15, Box: standing(0.8, 0.8), Layers: []model.Layer{materialtest.Wool(12e3, 0.1)}}, ""},
		{"bag at the wall", model.Treatment{Form: model.FreeStanding, Box: standing(0, 0.2), Layers: []model.Layer{film, materialtest.Wool(6e3, 0.2), film}}, ""},
		{"bag in the room", model.Treatment{Form: model.FreeStanding, Box: standing(0.4, 0.2), Layers: []model.Layer{film, materialtest.Wool(6e3, 0.2), film}}, ""},
		{"bag off the grid", model.Treatment{Form: model.FreeStanding, Box: standing(0.05, 0.2), Layers: []model.Layer{materialtest.Wool(6e3, 0.2), heavy}}, "model.AbsorptionOff{bag off the grid 0.1 "},
	} {
		test.t.Name = test.name
		room := &model.Room{Size: r3.Vec{X: 2.4, Y: 2, Z: 2}, Treatments: []model.Treatment{test.t}}
		for i := range room.Walls {
			room.Walls[i].Impedance = 100
		}
		d, err := Room(room, material.Typical, 0.1, nil)
		if err != nil {
			t.Errorf("%s: %v", test.name, err)
			continue
		}
		e, err := solver.New(d.Scene, model.Grid{50, 300}, solver.Settings{Cell: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, w := range append(d.Warnings, e.Warnings()...) {
			if strings.HasPrefix(fmt.Sprint(w), "{"+test.name) || strings.Contains(fmt.Sprint(w), "film of "+test.name) {
				said += fmt.Sprintf("%T%v\n", w, w)
			}
		}
		if test.want == "" && said != "" || !strings.Contains(said, test.want) {
			t.Errorf("%s: said %q, want %q", test.name, said, test.want)
		}
	}
}

// The reported error is that of the absorption in a tube, here with the piece drawn directly.
func TestAbsorptionError(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	stack, _, err := absorber.NewStack([]model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 20e3}}, &absorber.Options{Air: air})
	if err != nil {
		t.Fatal(err)
	}
	d := &draft{scene: scene.Scene{Air: air}, cells: [3]float64{0.1, 0.1, 0.1}}
	off, at, ok := d.absorptionError(stack, model.Left)
	s := tube.Scene(air, 0.1, 0)
	s.Porous = []scene.Porous{{Min: r3.Vec{X: s.Size.X - 0.1}, Max: s.Size, PorousVolume: wavetest.Wool(air, 20e3), Tested: true}}
	r, _, err := tube.Reflection(s, model.Grid{at}, 0.1, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	alpha := 1 - real(r[0])*real(r[0]) - imag(r[0])*imag(r[0])
	if want := alpha - stack.NormalAbsorption(at); !ok || off-want > 1e-3 || want-off > 1e-3 || off < errorLimit {
		t.Errorf("off by %.4f at %g Hz, measured %.4f", off, at, want)
	}
}
