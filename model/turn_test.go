package model

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// turnable is a room of which every part has a place.
func turnable() *Project {
	wall := func(n string) Surface { return Surface{Construction: n} }
	wool := Layer{Kind: PorousLayer, Text: "wool", Thickness: 0.1}
	film := Layer{Kind: FilmLayer, Text: "film"}
	return &Project{
		Room: Room{
			Size:    r3.Vec{X: 4.5, Y: 3.4, Z: 2.5},
			Outline: Polygon{{}, {X: 4.5}, {X: 4.5, Y: 2}, {X: 3, Y: 2}, {X: 3, Y: 3.4}, {Y: 3.4}},
			Edges:   []Edge{{}, {Surface: wall("edge")}, {Name: "niche"}},
			Slopes:  []Slope{{Through: [3]r3.Vec{{Z: 1.4}, {X: 4.5, Z: 1.4}, {Y: 1, Z: 2.5}}}},
			Walls:   [6]Surface{wall("front"), wall("back"), wall("left"), wall("right"), wall("floor"), wall("ceiling")},
			Openings: []Opening{
				{Kind: "door", Patch: Patch{Face: Back, Along: 0.2, Width: 0.8, Height: 2}, Swing: "inward"},
				{Kind: "window", Patch: Patch{Face: Left, Along: 1.5, Up: 0.9, Width: 1.2, Height: 1.1}},
				{Kind: "door", Name: "inner", Patch: Patch{Face: Back, Along: 2.3, Width: 0.7, Height: 2}, Swing: "inward"},
				{Kind: "door", Name: "niche", Edge: 3, Patch: Patch{Face: Right, Along: 0.4, Width: 0.8, Height: 1.9}, Swing: "inward"},
			},
			Blocks: []Block{{Name: "shelf", Min: r3.Vec{X: 1, Y: 0.1}, Max: r3.Vec{X: 1.5, Y: 0.4, Z: 2}}},
			Treatments: []Treatment{
				{Name: "layer", Form: OnWall, Patch: Patch{Face: Front, Along: 0.5, Up: 0.3, Width: 1, Height: 1.5}, Layers: []Layer{film, wool}},
				{Name: "fill", Form: InCorner, Corner: Corner{Walls: [2]Face{Left, Floor}, Leg: 0.3, From: 0.5, To: 2}, Layers: []Layer{wool}},
				{Name: "cloud", Form: UnderCeiling, Gap: 0.1, Box: Block{Min: r3.Vec{X: 2, Y: 1}, Max: r3.Vec{X: 2.8, Y: 1.6}}, Layers: []Layer{wool}},
				{Name: "screen", Form: FreeStanding, Box: Block{Min: r3.Vec{X: 2, Y: 0.5}, Max: r3.Vec{X: 2.1, Y: 1.5, Z: 1.8}}, Layers: []Layer{film, wool}},
				{Name: "mat", Form: OnWall, Patch: Patch{Face: Floor, Along: 0.5, Up: 0.3, Width: 1, Height: 1.5}, Layers: []Layer{wool}},
			},
		},
		Speakers: Speakers{
			Placed: true, Left: r3.Vec{X: 0.5, Y: 1, Z: 1.1}, Right: r3.Vec{X: 0.5, Y: 2.4, Z: 1.1}, Free: true,
			Zones: []Zone{{X: Range{0.3, 1}}, {X: Range{0.3, 1}, Y: Range{0.5, 1.5}}}, Box: Dimensions{0.3, 0.2, 0.4},
		},
		Seats:      []Seat{{Name: "chair", Placed: true, At: r3.Vec{X: 1.9, Y: 1.6, Z: 1.2}, Zones: []Zone{{Y: Range{1.2, 1.9}}}}, {Name: "sofa", Height: 1, Zones: []Zone{{X: Range{2, 2.5}}}}},
		KeepClear:  []Block{{Name: "desk", Max: r3.Vec{X: 0.7, Y: 2, Z: 0.7}}},
		Stock:      &Stock{Cover: []Cover{{Patch: Patch{Face: Right, Along: 1, Width: 2, Height: 2}}}, Free: []Keep{{OnWall: true, Patch: Patch{Face: Ceiling, Along: 1, Up: 0.5, Width: 2, Height: 0.3}}, {Block: Block{Max: r3.Vec{X: 1, Y: 0.5, Z: 2}}}}},
		Subwoofers: &Subwoofers{Count: 1, Zones: []Zone{{X: Range{0.2, 1}}}, Placed: []r3.Vec{{X: 0.4, Y: 0.3, Z: 0.2}}},
	}
}

// same compares projects but for rounding.
func sameProject(t *testing.T, want, got *Project) {
	t.Helper()
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-12)); d != "" {
		t.Error(d)
	}
}

// Four quarter turns are none, two are half a turn, and the project itself stays.
func TestQuarterTurns(t *testing.T) {
	t.Parallel()
	p := turnable()
	sameProject(t, p, p.Facing(Front))
	sameProject(t, p, p.Facing(Left).Facing(Right))
	sameProject(t, p, p.Facing(Back).Facing(Back))
	sameProject(t, p.Facing(Back), p.Facing(Left).Facing(Left))
	sameProject(t, p.Facing(Right), p.Facing(Left).Facing(Left).Facing(Left))
	sameProject(t, turnable(), p)
}

// A listener who faces the left wall has the old front wall to the right: where things
// are, by hand.
func TestFacingLeft(t *testing.T) {
	t.Parallel()
	p := turnable().Facing(Left)
	r := &p.Room
	if r.Size != (r3.Vec{X: 3.4, Y: 4.5, Z: 2.5}) {
		t.Errorf("size %v", r.Size)
	}
	for f, want := range map[Face]string{Front: "left", Right: "front", Back: "right", Left: "back", Floor: "floor", Ceiling: "ceiling"} {
		if got := r.Walls[f].Construction; got != want {
			t.Errorf("the %s is the %s wall of before, want %s", f.Wall(), got, want)
		}
	}
	if door := r.Openings[0].Patch; door.Face != Left || door.Along != 0.2 {
		t.Errorf("the door beside the old left wall, now in front: %+v", door)
	}
	if window := r.Openings[1].Patch; window.Face != Front || math.Abs(window.Along-(4.5-2.7)) > 1e-12 || window.Up != 0.9 {
		t.Errorf("window %+v", window)
	}
	if at := p.Seats[0].At; r3.Norm(r3.Sub(at, r3.Vec{X: 1.6, Y: 2.6, Z: 1.2})) > 1e-12 {
		t.Errorf("seat at %v", at)
	}
	if fill := r.Treatments[1].Corner; fill.Walls != [2]Face{Front, Floor} || math.Abs(fill.From-2.5) > 1e-12 || math.Abs(fill.To-4) > 1e-12 {
		t.Errorf("corner %+v", fill)
	}
	if screen := r.Treatments[3]; screen.Layers[0].Text != "wool" || screen.Box.Thin() != 1 {
		t.Errorf("the film faced the old front wall, which is on the right: %+v", screen)
	}
}

// What a turned room says of a place is what the room said of it: obstacles, ceiling,
// floor plan, and what each wall is made of.
func TestTurnKeepsWhatIsWhere(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := turnable()
		wall := Faces[rapid.IntRange(0, 3).Draw(t, "wall")]
		turned := p.Facing(wall)
		at := r3.Vec{X: rapid.Float64Range(0.01, turned.Room.Size.X-0.01).Draw(t, "x"), Y: rapid.Float64Range(0.01, turned.Room.Size.Y-0.01).Draw(t, "y"), Z: rapid.Float64Range(0, 2.5).Draw(t, "z")}
		back := p.FromFacing(wall, at)
		plan, turnedPlan := r2.Vec{X: back.X, Y: back.Y}, r2.Vec{X: at.X, Y: at.Y}
		if a, b := p.Room.CeilingAt(plan), turned.Room.CeilingAt(turnedPlan); math.Abs(a-b) > 1e-9 {
			t.Fatalf("ceiling at %g m, turned %g m", a, b)
		}
		if p.Room.Outline.Distance(plan) > 1e-6 && p.Room.Outline.Contains(plan) != turned.Room.Outline.Contains(turnedPlan) {
			t.Fatal("the floor plan differs")
		}
		a, b := inWhat(p, back), inWhat(turned, at)
		if d := cmp.Diff(a, b); d != "" {
			t.Fatalf("at %v: %s", at, d)
		}
	})
}

// inWhat names the obstacles about a place, which is left alone within a hair of their
// skins.
func inWhat(p *Project, at r3.Vec) map[string]bool {
	in := map[string]bool{}
	hair := r3.Vec{X: 1e-9, Y: 1e-9, Z: 1e-9}
	for b := range p.Obstacles() {
		b.Min, b.Max = r3.Add(b.Min, hair), r3.Sub(b.Max, hair)
		if b.Contains(at) {
			in[b.Name] = true
		}
	}
	return in
}

// A room with an option carried out, then turned, is the turned room with its option carried out.
func TestTurnTurnsOptions(t *testing.T) {
	t.Parallel()
	p := &Project{Room: Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}}
	slab := []Layer{{Kind: PorousLayer, Thickness: 0.1, Resistivity: 6000}}
	layer := Treatment{Name: "layer", Patch: Patch{Face: Back, Along: 0.2, Width: 1, Height: 2}, Layers: slab}
	moved := layer
	moved.Patch.Along = 1.5
	p.Room.Treatments = []Treatment{layer}
	p.Options = []Option{{
		Name: "moved", Move: []Treatment{moved},
		Add:   []Treatment{{Name: "panel", Form: FreeStanding, Box: Block{Min: r3.Vec{X: 1, Y: 0.5}, Max: r3.Vec{X: 1.1, Y: 1.5, Z: 2}}, Layers: slab}},
		Walls: map[Face]Surface{Left: {Construction: "concrete"}},
	}}
	for _, wall := range []Face{Back, Left, Right} {
		turned := p.Facing(wall)
		got, _, problem := turned.with(&turned.Options[0], "")
		if problem.Text != "" {
			t.Fatal(problem.Text)
		}
		want, _, _ := p.with(&p.Options[0], "")
		if d := cmp.Diff(want.Facing(wall).Room, got.Room, cmpopts.EquateApprox(0, 1e-12)); d != "" {
			t.Errorf("facing the %v wall: %s", wall, d)
		}
	}
}

// Edges keep their surfaces, and areas and volume stay.
func TestTurnKeepsSurfaces(t *testing.T) {
	t.Parallel()
	p := turnable()
	turned := p.Facing(Left)
	if math.Abs(p.Room.Volume()-turned.Room.Volume()) > 1e-9 {
		t.Errorf("%g m³ turned into %g", p.Room.Volume(), turned.Room.Volume())
	}
	for i := range p.Room.Outline {
		a, b := edgeSurface(&p.Room, i), edgeSurface(&turned.Room, i)
		if a.Construction != b.Construction {
			t.Errorf("edge %d was %q and is %q", i, a.Construction, b.Construction)
		}
	}
	if a, b := p.Room.Area(Front), turned.Room.Area(Right); math.Abs(a-b) > 1e-9 {
		t.Errorf("the front wall of %g m² has %g", a, b)
	}
}
