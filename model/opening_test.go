package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// breasted is a room of 5 m by 4 m with a chimney breast in the middle of its front
// wall, one on the left wall, and its back right corner cut off aslant.
func breasted() Room {
	return Room{
		Size: r3.Vec{X: 5, Y: 4, Z: 2.5},
		Outline: Polygon{
			{}, {X: 2}, {X: 2, Y: 0.4}, {X: 3, Y: 0.4}, {X: 3}, {X: 5}, {X: 5, Y: 3}, {X: 4, Y: 4},
			{Y: 4}, {Y: 2.5}, {X: 0.5, Y: 2.5}, {X: 0.5, Y: 1.5}, {Y: 1.5},
		},
		Edges: []Edge{2: {Name: "left breast"}, 6: {Name: "slant"}},
	}
}

// Where an opening is in a room with breasts and a slant, read off the plan by hand.
func TestOpeningPlaces(t *testing.T) {
	t.Parallel()
	r := breasted()
	half := math.Sqrt2 / 2
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	for _, c := range []struct {
		name   string
		o      Opening
		want   Stretch
		wall   string
		border bool
		edge   int
	}{
		{"front wall beside the breast", Opening{Patch: Patch{Face: Front, Along: 0.2, Width: 0.9}}, Stretch{at(0, 0.2), at(0, 1.1), at(1, 0)}, "front wall", true, 12},
		{"face of the breast", Opening{Patch: Patch{Face: Front, Along: 1.6, Width: 0.8}}, Stretch{at(0.5, 1.6), at(0.5, 2.4), at(1, 0)}, "front wall", false, 10},
		{"left breast by its side", Opening{Patch: Patch{Face: Left, Along: 2.1, Width: 0.5}}, Stretch{at(2.1, 0.4), at(2.6, 0.4), at(0, 1)}, "left wall", false, 2},
		{"left breast by its name", Opening{Edge: 3, Patch: Patch{Face: Left, Along: 0.1, Width: 0.5}}, Stretch{at(2.1, 0.4), at(2.6, 0.4), at(0, 1)}, `wall "left breast"`, false, 2},
		{"slant", Opening{Edge: 7, Patch: Patch{Face: Back, Along: half, Width: half}}, Stretch{at(4.5, 3.5), at(4, 4), at(-half, -half)}, `wall "slant"`, false, 6},
		{"right wall", Opening{Patch: Patch{Face: Right, Along: 1, Width: 1.5}}, Stretch{at(1, 4), at(2.5, 4), at(0, -1)}, "right wall", true, 7},
	} {
		got, ok := r.Stretch(&c.o)
		off := r2.Norm(r2.Sub(got.From, c.want.From)) + r2.Norm(r2.Sub(got.To, c.want.To)) + r2.Norm(r2.Sub(got.Inward, c.want.Inward))
		if !ok || off > 1e-12 {
			t.Errorf("%s: %v, %v, want %v", c.name, got, ok, c.want)
		}
		if wall := r.OpeningWall(&c.o); wall != c.wall {
			t.Errorf("%s is in the %s, want %s", c.name, wall, c.wall)
		}
		if edge := r.OpeningEdge(&c.o); edge != c.edge {
			t.Errorf("%s is in edge %d, want %d", c.name, edge, c.edge)
		}
		if p, border := r.BorderPatch(&c.o); border != c.border || border && p != c.o.Patch {
			t.Errorf("%s: patch %v, %v, want border %v", c.name, p, border, c.border)
		}
	}
}

// A named wall that lies on a side of the box is a rectangle of that side, whichever way
// round the outline goes.
func TestNamedWallOnTheBorder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		edge        int
		along, want float64
		face        Face
	}{{6, 0.5, 0.5, Back}, {9, 0.5, 2.7, Front}, {1, 0.3, 0.3, Left}} {
		r := breasted()
		o := Opening{Edge: c.edge, Patch: Patch{Face: c.face, Along: c.along, Up: 0.4, Width: 0.8, Height: 1.2}}
		if p, ok := r.BorderPatch(&o); !ok || math.Abs(p.Along-c.want) > 1e-12 || p.Face != c.face || math.Abs(p.Width-0.8) > 1e-12 || p.Up != 0.4 || p.Height != 1.2 {
			t.Errorf("edge %d: %+v, %v, want %g m along the %s", c.edge, p, ok, c.want, c.face)
		}
	}
}

// Openings that no one wall holds, that overlap, or stick out are told with what would
// be right.
func TestOpeningProblems(t *testing.T) {
	t.Parallel()
	door := func(f Face, along float64) Opening {
		return Opening{Kind: "door", Patch: Patch{Face: f, Along: along, Width: 0.8, Height: 2}, Surface: Surface{Construction: "x"}}
	}
	named := func(edge int, along, width, height float64) Opening {
		o := door(Back, along)
		o.Edge, o.Patch.Width, o.Patch.Height = edge, width, height
		return o
	}
	tall := func(o Opening) Opening { o.Patch.Up, o.Patch.Height = 1, 1; return o }
	for _, c := range []struct {
		name       string
		list       []Opening
		path, want string // no path: no problem
	}{
		{"breast", []Opening{door(Front, 1.6)}, "", ""},
		{"two in one wall", []Opening{door(Front, 0.1), door(Front, 2.9)}, "", ""},
		{"above one another", []Opening{named(3, 0, 0.8, 0.9), tall(named(3, 0, 0.8, 0))}, "", ""},
		{"half on the breast", []Opening{door(Front, 1.1)}, "openings[0]", "from 1.5 to 2.5 m the one 0.5 m from the front wall"},
		{"on the slant by its side", []Opening{door(Back, 3.1)}, "openings[0]", "a wall that stands aslant needs a name"},
		{"the same by side and name", []Opening{door(Left, 2.1), named(3, 0.5, 0.4, 1)}, "openings[1]", `overlaps openings[0] in the wall "left breast" by 0.4 m²`},
		{"beyond a named wall", []Opening{named(3, 0.5, 0.8, 2)}, "openings[0].width", `inside the wall "left breast", which is 1 m there: 0.5 m + 0.8 m`},
		{"above a named wall", []Opening{named(7, 0.1, 0.8, 2.6)}, "openings[0].height", `inside the wall "slant", which is 2.5 m`},
		{"no such edge", []Opening{named(20, 0.5, 0.8, 2)}, "openings[0].wall", "a wall that the outline has"},
		{"no face", []Opening{door(9, 1)}, "openings[0].wall", "one of the six walls"},
	} {
		p := sound()
		p.Room = breasted()
		for f := range p.Room.Walls {
			p.Room.Walls[f].Construction = "x"
		}
		p.Speakers.Placed = false
		p.Room.Openings = c.list
		v := validator{p: p}
		v.built()
		checkProblem(t, c.name, v.problems, c.path, c.want)
	}
}

// Two recesses that one side sees one behind the other are told apart by names only.
func TestOpeningInOneOfTwoWalls(t *testing.T) {
	t.Parallel()
	comb := Room{Size: r3.Vec{X: 6, Y: 4, Z: 2.5}, Outline: Polygon{
		{}, {X: 6}, {X: 6, Y: 1}, {X: 5, Y: 1}, {X: 5, Y: 2}, {X: 4, Y: 2}, {X: 4, Y: 1}, {X: 3, Y: 1}, {X: 3, Y: 3}, {X: 2, Y: 3}, {X: 2, Y: 4}, {Y: 4},
	}}
	o := Opening{Patch: Patch{Face: Back, Along: 1.1, Width: 0.8}}
	_, problem := comb.place(&o)
	if want := "could be in 2 walls that face like the back wall, 5 m and 3 m from the front wall"; !strings.Contains(problem, want) {
		t.Errorf("%q, want %q", problem, want)
	}
	if _, ok := comb.Stretch(&o); ok {
		t.Error("it has a place all the same")
	}
}

// Names of walls tell them apart from one another and from the six.
func TestWallNames(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		edges []Edge
		want  string
	}{
		{[]Edge{{Name: "bay"}, {}, {Name: "bay"}}, `room.outline[2].wall: must be unique; corner 1 has "bay" too`},
		{[]Edge{{}, {Name: "back"}}, `room.outline[1].wall: must differ from the names of the six walls`},
		{[]Edge{{}, {Name: "bay"}}, ""},
	} {
		v := validator{p: &Project{Room: Room{Edges: c.edges}}}
		v.wallNames()
		if got := v.problems.Error(); !strings.HasPrefix(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%v: %q, want %q", c.edges, got, c.want)
		}
	}
}

// The space that a door in an inner wall sweeps is kept clear, and lies in the room.
func TestInnerDoorSwings(t *testing.T) {
	t.Parallel()
	p := &Project{Room: breasted()}
	p.Room.Openings = []Opening{{Kind: "door", Swing: "inward", Edge: 7, Patch: Patch{Face: Back, Along: 0.2, Width: 0.9, Height: 2}}}
	got := slices.Collect(p.Obstacles())
	if len(got) != 1 {
		t.Fatalf("%d clearances, want one", len(got))
	}
	s, _ := p.Room.Stretch(&p.Room.Openings[0])
	for _, share := range []float64{0, 0.5, 1} { // of the leaf, half open
		v := r2.Add(s.From, r2.Scale(0.9*share*math.Sqrt2/2, r2.Add(s.Inward, r2.Unit(r2.Sub(s.To, s.From)))))
		if !got[0].Contains(r3.Vec{X: v.X, Y: v.Y, Z: 1}) {
			t.Errorf("%v is swept and not kept clear, which is %v", v, got[0])
		}
	}
}

// However an opening is said to be, by a side or by a name, it lies on the outline and has
// the room before it and none behind it.
func TestOpeningsLieOnTheOutline(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := breasted()
		o := Opening{Edge: rapid.IntRange(0, len(r.Outline)).Draw(t, "edge")}
		o.Patch = Patch{Along: rapid.Float64Range(0, 4).Draw(t, "along"), Width: rapid.Float64Range(0.1, 1).Draw(t, "width")}
		if o.Patch.Face = Face(rapid.IntRange(0, 3).Draw(t, "face")); o.Edge > 0 {
			o.Patch.Face = r.EdgeFace(o.Edge - 1)
			if length, _ := r.openingExtent(&o); o.Patch.Along+o.Patch.Width > length {
				t.Skip("beyond the wall")
			}
		}
		s, ok := r.Stretch(&o)
		if !ok {
			t.Skip("in no one wall")
		}
		for _, share := range []float64{0.05, 0.5, 0.95} {
			v := along(s.From, s.To, share)
			if d := r.Outline.Distance(v); d > 1e-9 {
				t.Fatalf("%v is %g m off the outline", v, d)
			}
			if before, behind := r2.Add(v, r2.Scale(1e-3, s.Inward)), r2.Sub(v, r2.Scale(1e-3, s.Inward)); !r.Outline.Contains(before) || r.Outline.Contains(behind) {
				t.Fatalf("%v is not between the room and what is outside", v)
			}
		}
		if math.Abs(s.Length()-o.Patch.Width) > 1e-9 || math.Abs(s.Overlap(s)-o.Patch.Width) > 1e-9 {
			t.Fatalf("%g m wide, and %g m shared with itself, want %g", s.Length(), s.Overlap(s), o.Patch.Width)
		}
	})
}

func ExampleRoom_Stretch() {
	r := Room{
		Size:    r3.Vec{X: 5, Y: 4, Z: 2.5}, // an L: behind y = 2.5 m the room ends at 3 m
		Outline: Polygon{{}, {X: 5}, {X: 5, Y: 2.5}, {X: 3, Y: 2.5}, {X: 3, Y: 4}, {Y: 4}},
	}
	door := Opening{Kind: "door", Patch: Patch{Face: Back, Along: 2.9, Width: 0.8, Height: 2}}
	s, ok := r.Stretch(&door)
	fmt.Println(s.From, s.To, ok)
	// Output: {3 2.9} {3 3.7} true
}
