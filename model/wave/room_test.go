package wave

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/fit"
)

// study is a small room of plastered brick.
func study() *model.Room {
	r := &model.Room{Size: r3.Vec{X: 3, Y: 2.4, Z: 2}}
	for f := range r.Walls {
		r.Walls[f] = model.Surface{Construction: "brick plastered"}
	}
	return r
}

func batt(thickness float64) model.Layer {
	return model.Layer{Kind: model.PorousLayer, Thickness: thickness, Resistivity: 6000}
}

func foil() model.Layer { return model.Layer{Kind: model.FilmLayer, Thickness: 1e-4} }

func drawn(t *testing.T, r *model.Room) (Scene, []model.Warning) {
	t.Helper()
	s, w, err := RoomScene(r, material.Typical, DefaultCell)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	return s, w
}

// volume returns the volume of all porous pieces, m³.
func (s *Scene) woolVolume() float64 {
	var v float64
	for _, p := range s.Porous {
		d := r3.Sub(p.Max, p.Min)
		v += d.X * d.Y * d.Z
	}
	return v
}

// filmArea returns the area of all films, m².
func (s *Scene) filmArea() float64 {
	var a float64
	for _, f := range s.Films {
		d := vector(r3.Sub(f.Max, f.Min))
		b, c := others(f.axis())
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
			model.Treatment{Patch: model.Patch{Face: model.Back, Along: 0.2, Up: 0.1, Width: 2, Height: 1.5}, Layers: []model.Layer{foil(), batt(0.2), {Kind: model.GapLayer, Thickness: 0.1}, batt(0.1)}},
			2 * 1.5 * 0.3, 3, r3.Vec{X: 2.6, Y: 0.2, Z: 0.1}, r3.Vec{X: 3, Y: 2.2, Z: 1.6},
		},
		{
			"wool off the left wall",
			model.Treatment{Patch: model.Patch{Face: model.Left, Width: 1, Height: 1}, Layers: []model.Layer{batt(0.1), {Kind: model.GapLayer, Thickness: 0.15}}},
			0.1, 0, r3.Vec{Y: 0.15}, r3.Vec{X: 1, Y: 0.25, Z: 1},
		},
		{
			"triangle in an upright corner",
			model.Treatment{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Right}, Leg: 0.45, To: 2}, Layers: []model.Layer{foil(), batt(0)}},
			0.45 * 0.45 / 2 * 2, (0.45 + 0.4) * 2, // the first step of the stair goes 0.4 m in
			r3.Vec{Y: 2}, r3.Vec{X: 0.45, Y: 2.4, Z: 2},
		},
		{
			"square along the ceiling",
			model.Treatment{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Ceiling, model.Back}, Square: true, Leg: 0.4, From: 0.5, To: 1.7}, Layers: []model.Layer{foil(), batt(0)}},
			0.4 * 0.4 * 1.2, 2 * 0.4 * 1.2, r3.Vec{X: 2.6, Y: 0.5, Z: 1.6}, r3.Vec{X: 3, Y: 1.7, Z: 2},
		},
		{
			"cloud",
			model.Treatment{Form: model.UnderCeiling, Gap: 0.2, Box: model.Block{Min: r3.Vec{X: 1, Y: 0.5}, Max: r3.Vec{X: 2, Y: 1.7}}, Layers: []model.Layer{foil(), batt(0.1)}},
			0.12, 1.2, r3.Vec{X: 1, Y: 0.5, Z: 1.7}, r3.Vec{X: 2, Y: 1.7, Z: 1.8},
		},
		{
			"panel",
			model.Treatment{Form: model.FreeStanding, Box: model.Block{Min: r3.Vec{X: 1, Y: 0.5}, Max: r3.Vec{X: 2, Y: 0.6, Z: 1.5}}, Layers: []model.Layer{batt(0.1)}},
			0.15, 0, r3.Vec{X: 1, Y: 0.5}, r3.Vec{X: 2, Y: 0.6, Z: 1.5},
		},
	} {
		r := study()
		c.t.Name = c.name
		r.Treatments = []model.Treatment{c.t}
		s, warnings := drawn(t, r)
		if got := s.woolVolume(); math.Abs(got-c.volume) > 1e-9 {
			t.Errorf("%s: %v m³ of wool, want %v", c.name, got, c.volume)
		}
		if got := s.filmArea(); math.Abs(got-c.film) > 1e-9 {
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
			if strings.Contains(string(w), "left out") || strings.Contains(string(w), "impedance") {
				t.Errorf("%s: %s", c.name, w)
			}
		}
	}
}

// A stair's film lets through what the slope's film would: its mass over its area is
// that of the slope.
func TestFilmOnASlantKeepsItsInertance(t *testing.T) {
	t.Parallel()
	r := study()
	r.Treatments = []model.Treatment{{
		Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.4, To: 2},
		Layers: []model.Layer{foil(), batt(0)},
	}}
	s, _ := drawn(t, r)
	slope := 0.4 * math.Sqrt2 * 2 // m²
	want := absorber.PolyethyleneDensity * 1e-4 / slope
	if got := s.Films[0].SurfaceMass / s.filmArea(); math.Abs(got/want-1) > 1e-9 {
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
		{"pierced sheet", part, []model.Layer{{Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03}, batt(0.05), {Kind: model.GapLayer, Thickness: 0.1}}, false},
		{"panel", part, []model.Layer{{Kind: model.PanelLayer, SurfaceMass: 2.4}, batt(0.05), {Kind: model.GapLayer, Thickness: 0.05}}, false},
		{"two films in one cell", part, []model.Layer{foil(), batt(0.05), foil(), batt(0.2)}, false},
		{"dense wool", whole, []model.Layer{dense(0.2)}, false},
		{"thin dense wool", whole, []model.Layer{dense(0.05)}, true},
		{"thin wool", whole, []model.Layer{batt(0.05)}, true},
		{"wool", whole, []model.Layer{batt(0.1)}, true},
		{"dense wool on a gap", whole, []model.Layer{dense(0.05), {Kind: model.GapLayer, Thickness: 0.05}}, true},
		{"dense wool with edges", part, []model.Layer{dense(0.2)}, true},
	} {
		r := study()
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
		want := "in the wave run a solid block with the surface impedance of the layers stands for them, which the grid follows better: " + c.name
		if !slices.Contains(warnings, model.Warning(want)) {
			t.Errorf("%s: not said in %q", c.name, warnings)
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
	pierced := []model.Layer{{Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03}, batt(0.1)}
	for _, layers := range [][]model.Layer{dense, pierced} {
		r := study()
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
	r := study()
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

// apart returns the greatest difference of two transfers as a share of the greatest
// value.
func apart(a, b []complex128) float64 {
	var most, worst float64
	for i := range a {
		most, worst = max(most, cmplx.Abs(a[i])), max(worst, cmplx.Abs(a[i]-b[i]))
	}
	return worst / most
}

// An outline that is the whole rectangle, or a slope at the ceiling or above it, changes
// nothing.
func TestOutlineOfABox(t *testing.T) {
	t.Parallel()
	seat, source := r3.Vec{X: 1.9, Y: 1, Z: 1.1}, r3.Vec{X: 0.5, Y: 0.9, Z: 0.9}
	want := roomTransfer(t, study(), seat, source)
	for name, change := range map[string]func(*model.Room){
		"outline": func(r *model.Room) { r.Outline = model.Polygon{{}, {Y: 2.4}, {X: 3, Y: 2.4}, {X: 3}} },
		"level": func(r *model.Room) {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2}, {X: 1, Z: 2}, {Y: 1, Z: 2}}}}
		},
		"slope": func(r *model.Room) {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2.3}, {X: 1, Z: 2.3}, {Y: 1, Z: 2.4}}}}
		},
	} {
		r := study()
		change(r)
		if d := apart(want, roomTransfer(t, r, seat, source)); d > 0.01 {
			t.Errorf("%s: differs by %v", name, d)
		}
	}
}

func TestRoomSceneErrors(t *testing.T) {
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
		r := study()
		change(r)
		if _, _, err := RoomScene(r, material.Typical, DefaultCell); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

func ExampleRoomScene() {
	room := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	for f := range room.Walls {
		room.Walls[f] = model.Surface{Impedance: 60}
	}
	room.Treatments = []model.Treatment{{
		Form:   model.InCorner,
		Corner: model.Corner{Walls: [2]model.Face{model.Back, model.Left}, Leg: 0.4, To: 2.4},
		Layers: []model.Layer{{Kind: model.PorousLayer, Resistivity: 6000}},
	}}
	scene, warnings, err := RoomScene(room, material.Typical, 0.1)
	fmt.Println(len(scene.Porous), "steps of a cell,", len(warnings), "doubts,", err)
	// Output: 4 steps of a cell, 0 doubts, <nil>
}
