package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// drawn draws a room as it typically is, on the usual cells.
func drawn(t *testing.T, r *model.Room) (scene.Scene, []model.Warning) {
	t.Helper()
	d, err := Room(r, material.Typical, solver.DefaultCell, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Scene.Validate(); err != nil {
		t.Fatal(err)
	}
	return d.Scene, d.Warnings
}

// solve returns the transfer of a scene from source to seat.
func solve(t *testing.T, s scene.Scene, grid model.Grid, cell float64, source, seat r3.Vec) []complex128 {
	t.Helper()
	e, err := solver.New(s, grid, solver.Settings{Cell: cell, Zones: wavetest.Around(source)})
	if err != nil {
		t.Fatal(err)
	}
	return wavetest.Transfer(t, e, source, seat)
}

// woolVolume returns the volume of all porous pieces, m³.
func woolVolume(s scene.Scene) float64 {
	var v float64
	for _, p := range s.Porous {
		d := r3.Sub(p.Max, p.Min)
		v += d.X * d.Y * d.Z
	}
	return v
}

// filmArea returns the area of all films, m².
func filmArea(s scene.Scene) float64 {
	var a float64
	for _, f := range s.Films {
		d := scene.Components(r3.Sub(f.Max, f.Min))
		b, c := scene.OtherAxes(f.Axis())
		a += d[b] * d[c]
	}
	return a
}

// Every form is drawn with the volume and the film that it has, worked by hand.
func TestTreatmentsAreDrawnWhole(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		t            model.Treatment
		volume, film float64 // m³, m²
		low, high    r3.Vec  // of all wool
	}{
		{
			"two layers on a wall",
			model.Treatment{Patch: model.Patch{Face: model.Back, Along: 0.2, Up: 0.1, Width: 2, Height: 1.5}, Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0.2), {Kind: model.GapLayer, Thickness: 0.1}, wavetest.Batt(0.1)}},
			2 * 1.5 * 0.3, 3, r3.Vec{X: 2.6, Y: 0.2, Z: 0.1}, r3.Vec{X: 3, Y: 2.2, Z: 1.6},
		},
		{
			"wool off the left wall",
			model.Treatment{Patch: model.Patch{Face: model.Left, Width: 1, Height: 1}, Layers: []model.Layer{wavetest.Batt(0.1), {Kind: model.GapLayer, Thickness: 0.15}}},
			0.1, 0, r3.Vec{Y: 0.15}, r3.Vec{X: 1, Y: 0.25, Z: 1},
		},
		{
			"triangle in an upright corner",
			model.Treatment{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Right}, Leg: 0.45, To: 2}, Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0)}},
			0.45 * 0.45 / 2 * 2, (0.4 + 0.4) * 2, // stairs of whole cells: four treads and four risers
			r3.Vec{Y: 2}, r3.Vec{X: 0.45, Y: 2.4, Z: 2},
		},
		{
			"square along the ceiling",
			model.Treatment{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Ceiling, model.Back}, Square: true, Leg: 0.4, From: 0.5, To: 1.7}, Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0)}},
			0.4 * 0.4 * 1.2, 2 * 0.4 * 1.2, r3.Vec{X: 2.6, Y: 0.5, Z: 1.6}, r3.Vec{X: 3, Y: 1.7, Z: 2},
		},
		{
			"cloud",
			model.Treatment{Form: model.UnderCeiling, Gap: 0.2, Box: model.Block{Min: r3.Vec{X: 1, Y: 0.5}, Max: r3.Vec{X: 2, Y: 1.7}}, Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0.1)}},
			0.12, 1.2, r3.Vec{X: 1, Y: 0.5, Z: 1.7}, r3.Vec{X: 2, Y: 1.7, Z: 1.8},
		},
		{
			"panel",
			model.Treatment{Form: model.FreeStanding, Box: model.Block{Min: r3.Vec{X: 1, Y: 0.5}, Max: r3.Vec{X: 2, Y: 0.6, Z: 1.5}}, Layers: []model.Layer{wavetest.Batt(0.1)}},
			0.15, 0, r3.Vec{X: 1, Y: 0.5}, r3.Vec{X: 2, Y: 0.6, Z: 1.5},
		},
	} {
		r := wavetest.Study()
		c.t.Name = c.name
		r.Treatments = []model.Treatment{c.t}
		s, warnings := drawn(t, r)
		if got := woolVolume(s); math.Abs(got-c.volume) > 1e-9 {
			t.Errorf("%s: %v m³ of wool, want %v", c.name, got, c.volume)
		}
		if got := filmArea(s); math.Abs(got-c.film) > 1e-9 {
			t.Errorf("%s: %v m² of film, want %v", c.name, got, c.film)
		}
		low, high := s.Porous[0].Min, s.Porous[0].Max
		for _, p := range s.Porous {
			low = r3.Vec{X: min(low.X, p.Min.X), Y: min(low.Y, p.Min.Y), Z: min(low.Z, p.Min.Z)}
			high = r3.Vec{X: max(high.X, p.Max.X), Y: max(high.Y, p.Max.Y), Z: max(high.Z, p.Max.Z)}
		}
		if r3.Norm(r3.Sub(low, c.low))+r3.Norm(r3.Sub(high, c.high)) > 1e-9 {
			t.Errorf("%s: wool from %v to %v, want %v to %v", c.name, low, high, c.low, c.high)
		}
		for _, w := range warnings {
			if s, ok := w.(model.Simplified); ok && s.How >= model.LayersAsBlocks {
				t.Errorf("%s: %v", c.name, w)
			}
		}
	}
}

// A stair's film transmits as much as the slope's film would: its mass over its area is that of the
// slope.
func TestFilmOnASlantKeepsItsInertance(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Treatments = []model.Treatment{{
		Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.4, To: 2},
		Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0)},
	}}
	s, _ := drawn(t, r)
	slope := 0.4 * math.Sqrt2 * 2 // m²
	want := absorber.PolyethyleneDensity * 1e-4 / slope
	if got := s.Films[0].SurfaceMass / filmArea(s); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("inertance %v kg/m⁴, want %v", got, want)
	}
}

// What the grid cannot hold becomes a rigid block of its size with the build-up's own
// absorption on its front. So does what it holds badly, where it covers the wall.
func TestReplacedByImpedance(t *testing.T) {
	t.Parallel()
	part := model.Patch{Face: model.Right, Along: 0.5, Up: 0.5, Width: 1, Height: 1}
	whole := model.Patch{Face: model.Right, Width: 3, Height: 2}
	dense := func(d float64) model.Layer {
		return model.Layer{Kind: model.PorousLayer, Thickness: d, Resistivity: 20e3}
	}
	for _, c := range []struct {
		name   string
		patch  model.Patch
		layers []model.Layer
		drawn  bool
	}{
		{"pierced sheet", part, []model.Layer{{Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03}, wavetest.Batt(0.05), {Kind: model.GapLayer, Thickness: 0.1}}, false},
		{"panel", part, []model.Layer{{Kind: model.PanelLayer, SurfaceMass: 2.4}, wavetest.Batt(0.05), {Kind: model.GapLayer, Thickness: 0.05}}, false},
		{"two films in one cell", part, []model.Layer{wavetest.Foil(), wavetest.Batt(0.05), wavetest.Foil(), wavetest.Batt(0.2)}, false},
		{"dense wool", whole, []model.Layer{dense(0.2)}, false},
		{"thin dense wool", whole, []model.Layer{dense(0.05)}, true},
		{"thin wool", whole, []model.Layer{wavetest.Batt(0.05)}, true},
		{"wool", whole, []model.Layer{wavetest.Batt(0.1)}, true},
		{"dense wool on a gap", whole, []model.Layer{dense(0.05), {Kind: model.GapLayer, Thickness: 0.05}}, true},
		{"dense wool with edges", part, []model.Layer{dense(0.2)}, true},
	} {
		r := wavetest.Study()
		r.Treatments = []model.Treatment{{Name: c.name, Patch: c.patch, Layers: c.layers}}
		s, warnings := drawn(t, r)
		if c.drawn {
			if len(s.Blocks) > 0 || len(s.Porous) != 1 {
				t.Errorf("%s: %d blocks and %d volumes, want a volume alone", c.name, len(s.Blocks), len(s.Porous))
			}
			continue
		}
		if len(s.Porous)+len(s.Films)+len(s.Patches) > 0 || len(s.Blocks) != 1 {
			t.Fatalf("%s: %d volumes, %d films, %d patches, %d blocks; want a block alone", c.name, len(s.Porous), len(s.Films), len(s.Patches), len(s.Blocks))
		}
		stack, _, err := absorber.NewStack(c.layers, &absorber.Options{Air: s.Air, Backing: s.Walls[model.Right]})
		if err != nil {
			t.Fatal(err)
		}
		low := r3.Vec{X: c.patch.Along, Y: 2.4 - stack.Depth(), Z: c.patch.Up}
		high := r3.Vec{X: low.X + c.patch.Width, Y: 2.4, Z: low.Z + c.patch.Height}
		if b := s.Blocks[0]; r3.Norm(r3.Sub(b.Min, low))+r3.Norm(r3.Sub(b.Max, high)) > 1e-9 || !slices.Equal(b.Sides, []model.Face{model.Left}) {
			t.Errorf("%s: block from %v to %v, want %v to %v", c.name, b.Min, b.Max, low, high)
		}
		if !slices.Contains(warnings, model.Warning(model.Simplified{How: model.LayersAsBlocks, Names: c.name})) {
			t.Errorf("%s: not said in %v", c.name, warnings)
		}
		for _, f := range []float64{40, 80, 160, 300} {
			got, want := material.AbsorptionAt(s.Blocks[0].Surface.Admittance(f), 1), stack.NormalAbsorption(f)
			if math.Abs(got-want) > 0.05 {
				t.Errorf("%s at %v Hz: absorption %.3f, the build-up's is %.3f", c.name, f, got, want)
			}
		}
	}
}

// Three blocks must not share a place: of three dense layers that meet in a room's corners
// the third is drawn as it is, and a pierced one lies flat on its wall.
func TestThirdInACorner(t *testing.T) {
	t.Parallel()
	dense := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 20e3}}
	pierced := []model.Layer{{Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03}, wavetest.Batt(0.1)}
	for _, layers := range [][]model.Layer{dense, pierced} {
		r := wavetest.Study()
		r.Treatments = []model.Treatment{
			{Patch: model.Patch{Face: model.Back, Width: 2.4, Height: 2}, Layers: layers},
			{Patch: model.Patch{Face: model.Left, Width: 3, Height: 2}, Layers: layers},
			{Patch: model.Patch{Face: model.Floor, Width: 3, Height: 2.4}, Layers: layers},
		}
		s, _ := drawn(t, r)
		if len(s.Blocks) != 2 || len(s.Porous)+len(s.Patches) != 1 {
			t.Errorf("%d blocks, %d volumes, %d patches, want two blocks and one of the others", len(s.Blocks), len(s.Porous), len(s.Patches))
		}
	}
}

// Openings, and edges of the outline with walls of their own, are drawn where they are.
func TestSurfacesAreDrawn(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 1.4}, {X: 2, Y: 1.4}, {X: 2, Y: 2.4}, {Y: 2.4}}
	r.Edges = []model.Edge{{Surface: model.Surface{Impedance: 30}}, {}, {Surface: model.Surface{Impedance: 20}}}
	r.Openings = []model.Opening{{Kind: "hole", Patch: model.Patch{Face: model.Back, Along: 0.2, Width: 0.8, Height: 1.9}}}
	r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.5}, {X: 3, Z: 1.5}, {Y: 2.4, Z: 2.7}}, Surface: model.Surface{Impedance: 40}}}
	s, _ := drawn(t, r)
	beta := func(b fit.Branches) float64 { return math.Round(1e6*real(b.Admittance(100))) / 1e6 }
	brick := beta(s.Walls[model.Back])
	wantEdges := []float64{math.Round(1e6/30.0) / 1e6, brick, 0.05, brick, brick, brick}
	for i, want := range wantEdges {
		if got := beta(s.Edges[i]); got != want {
			t.Errorf("edge %d has β %v, want %v", i, got, want)
		}
	}
	if len(s.Patches) != 2 {
		t.Fatalf("%d patches, want the left wall's and the hole", len(s.Patches))
	}
	if got, want := s.Patches[0].Patch, (model.Patch{Face: model.Left, Width: 3, Height: 2}); got != want {
		t.Errorf("patch of the first edge %+v, want %+v", got, want)
	}
	if got := s.Patches[1]; got.Face != model.Back || beta(got.Surface) < 0.2 {
		t.Errorf("the hole is %+v", got)
	}
	if got := s.Slopes[0]; math.Abs(got.Height-1.5) > 1e-12 || math.Abs(got.Rise.Y-0.5) > 1e-12 || beta(got.Surface) != 0.025 {
		t.Errorf("the slope is %+v", got)
	}
}

func TestRoomErrors(t *testing.T) {
	t.Parallel()
	for want, change := range map[string]func(*model.Room){
		"brck": func(r *model.Room) { r.Walls[0].Construction = "brck" },
		"back layer: layer 1": func(r *model.Room) {
			r.Treatments = []model.Treatment{{Name: "back layer", Layers: []model.Layer{{Kind: model.PorousLayer}}}}
		},
		"needs at least one": func(r *model.Room) { r.Treatments = []model.Treatment{{Name: "empty"}} },
		"slope 1 of the ceiling": func(r *model.Room) {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1}, {X: 1, Z: 1}, {Y: 1, Z: 2}}, Surface: model.Surface{Construction: "reed"}}}
		},
		"wall from corner 2": func(r *model.Room) {
			r.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 2.4}, {Y: 2.4}}
			r.Edges = []model.Edge{1: {Surface: model.Surface{Construction: "reed"}}}
		},
	} {
		r := wavetest.Study()
		change(r)
		if _, err := Room(r, material.Typical, solver.DefaultCell, nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

func ExampleRoom() {
	room := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	for f := range room.Walls {
		room.Walls[f] = model.Surface{Impedance: 60}
	}
	room.Treatments = []model.Treatment{{
		Form:   model.InCorner,
		Corner: model.Corner{Walls: [2]model.Face{model.Back, model.Left}, Leg: 0.4, To: 2.4},
		Layers: []model.Layer{{Kind: model.PorousLayer, Resistivity: 6000}},
	}}
	d, err := Room(room, material.Typical, 0.1, nil)
	if err != nil {
		panic(err)
	}
	fmt.Println(len(d.Scene.Porous), "steps of a cell,", len(d.Warnings), "warnings")
	// Output: 4 steps of a cell, 0 warnings
}

// A door that stands in the wall of the corner of an L is drawn there, whether its wall is
// given by the direction it faces or by a name. In a room turned round it does the same.
func TestInnerOpeningsAreDrawn(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 1.2}, {X: 2, Y: 1.2}, {X: 2, Y: 2.4}, {Y: 2.4}}
	r.Edges = []model.Edge{3: {Name: "corner"}}
	door := model.Opening{Kind: "hole", Patch: model.Patch{Face: model.Back, Along: 1.4, Width: 0.8, Height: 1.7}}
	byName := door
	byName.Edge, byName.Patch.Along = 4, 0.2
	grid := model.Grid{40, 63, 85, 110, 150}
	seat, place := r3.Vec{X: 1.3, Y: 0.8, Z: 1.1}, r3.Vec{X: 0.5, Y: 1.7, Z: 0.7}
	run := func(r *model.Room, place, seat r3.Vec) []complex128 {
		s, _ := drawn(t, r)
		return solve(t, s, grid, solver.DefaultCell, place, seat)
	}
	bare := run(r, place, seat)
	r.Openings = []model.Opening{door}
	want := run(r, place, seat)
	if off := wavetest.RelativeError(bare, want); off < 0.1 {
		t.Errorf("the door changes only %.4f of the pressure", off)
	}
	r.Openings = []model.Opening{byName}
	if off := wavetest.RelativeError(run(r, place, seat), want); off > 1e-9 {
		t.Errorf("named, it is %.2g of the pressure off", off)
	}
	p := model.Project{Room: *r}
	turned := p.Facing(model.Right)
	face := func(v r3.Vec) r3.Vec { return r3.Vec{X: 2.4 - v.Y, Y: v.X, Z: v.Z} } // the right wall is the front wall now
	if back := p.FromFacing(model.Right, face(seat)); r3.Norm(r3.Sub(back, seat)) > 1e-12 {
		t.Fatalf("%v turned comes back as %v", seat, back)
	}
	if off := wavetest.RelativeError(run(&turned.Room, face(place), face(seat)), want); off > 1e-3 {
		t.Errorf("turned, it is %.2g of the pressure off", off)
	}
}

// A column holds the wool of a cylinder, whatever the cells.
func TestColumnIsRound(t *testing.T) {
	for _, cell := range []float64{0.05, 0.1, 0.17} {
		p := &model.Project{Room: model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}}
		for f := range p.Room.Walls {
			p.Room.Walls[f].Impedance = 100
		}
		p.Furnish(model.Furnishing{Block: model.Block{
			Min: r3.Vec{X: 1.03, Y: 1}, Max: r3.Vec{X: 1.53, Y: 1.5, Z: 2}, Furniture: model.Furniture{Kind: model.Column, Item: 1},
		}})
		drawing, err := Room(&p.Room, material.Typical, cell, nil)
		if err != nil {
			t.Fatal(err)
		}
		var volume float64
		for _, w := range drawing.Scene.Porous {
			d := r3.Sub(w.Max, w.Min)
			volume += d.X * d.Y * d.Z
		}
		if want := math.Pi * 0.25 * 0.25 * 2; math.Abs(volume-want) > 1e-9 || len(drawing.Scene.Porous) < 3 {
			t.Errorf("cells of %v m: %d slices with %.6f m³, want %.6f m³", cell, len(drawing.Scene.Porous), volume, want)
		}
	}
}
