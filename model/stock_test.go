package model

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestPassage(t *testing.T) {
	t.Parallel()
	door := Passage{Width: 0.72, Height: 2, Longest: 2.2}
	for _, c := range []struct {
		name    string
		passage Passage
		size    r3.Vec
		want    bool
	}{
		{"a batt lying down", door, r3.Vec{X: 1.2, Y: 0.6, Z: 0.1}, true},
		{"upright, on its side", door, r3.Vec{X: 0.3, Y: 1.9, Z: 2.1}, true},
		{"too deep and too wide", door, r3.Vec{X: 0.8, Y: 0.75, Z: 0.75}, false},
		{"too long for the bend", door, r3.Vec{X: 2.3, Y: 0.5, Z: 0.1}, false},
		{"no limit", Passage{}, r3.Vec{X: 9, Y: 9, Z: 9}, true},
		{"width alone", Passage{Width: 0.7}, r3.Vec{X: 3, Y: 2, Z: 0.7}, true},
		{"width alone, too thick", Passage{Width: 0.7}, r3.Vec{X: 3, Y: 2, Z: 0.71}, false},
		{"just so", door, r3.Vec{X: 2.2, Y: 2, Z: 0.72}, true},
	} {
		if got := c.passage.Admits(c.size); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Turning a piece changes nothing, and a smaller one passes where a larger does.
func TestPassageProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom([]float64{0.3, 0.5, 0.72, 1, 2, 2.2})
		p := Passage{m.Draw(t, "width"), m.Draw(t, "height"), m.Draw(t, "longest")}
		s := r3.Vec{X: m.Draw(t, "x"), Y: m.Draw(t, "y"), Z: m.Draw(t, "z")}
		got := p.Admits(s)
		if p.Admits(r3.Vec{X: s.Z, Y: s.X, Z: s.Y}) != got || p.Admits(r3.Vec{X: s.Y, Y: s.X, Z: s.Z}) != got {
			t.Fatal("turned, it is another matter")
		}
		if got && !p.Admits(r3.Scale(0.9, s)) {
			t.Fatal("a smaller one does not pass")
		}
	})
}

func TestObstructions(t *testing.T) {
	t.Parallel()
	back := func(along, width, depth float64) Treatment {
		return Treatment{Patch: Patch{Face: Back, Along: along, Width: width, Height: 2}, Layers: []Layer{wool(depth)}}
	}
	p := Project{
		Room: Room{
			Size: r3.Vec{X: 4.5, Y: 3.4, Z: 2.45},
			Openings: []Opening{
				{Kind: "window", Patch: Patch{Face: Back, Along: 2.5, Up: 1, Width: 0.8, Height: 0.8}},
				{Kind: "door", Patch: Patch{Face: Left, Along: 3.6, Width: 0.8, Height: 2}, Swing: "inward"},
			},
			Blocks: []Block{{Name: "pier", Min: r3.Vec{X: 4.3}, Max: r3.Vec{X: 4.5, Y: 0.2, Z: 2.45}}},
		},
		KeepClear: []Block{{Name: "desk", Min: r3.Vec{Y: 1}, Max: r3.Vec{X: 0.6, Y: 2.4, Z: 0.74}}},
		Stock: &Stock{
			Cover: []Cover{
				{Patch: Patch{Face: Back, Along: 0.1, Width: 3.2, Height: 2.45}, Deepest: 0.3},
				{Patch: Patch{Face: Front, Width: 3.4, Height: 2.45}},
				{Patch: Patch{Face: Right, Width: 4.5, Height: 2.45}},
				{Patch: Patch{Face: Ceiling, Width: 4.5, Height: 3.4}, Deepest: 0.3},
			},
			Free: []Keep{{Name: "socket", OnWall: true, Patch: Patch{Face: Front, Along: 2.8, Up: 0.3, Width: 0.1, Height: 0.1}}},
		},
	}
	corner := func(leg, from float64) Treatment {
		return Treatment{Form: InCorner, Corner: Corner{Walls: [2]Face{Front, Right}, Leg: leg, From: from, To: 2.45}, Layers: []Layer{wool(0)}}
	}
	cloud := func(gap float64) Treatment {
		return Treatment{Form: UnderCeiling, Gap: gap, Layers: []Layer{wool(0.1)}, Box: Block{Min: r3.Vec{X: 1, Y: 0.2}, Max: r3.Vec{X: 4.4, Y: 2}}}
	}
	for _, c := range []struct {
		name  string
		t     Treatment
		wants []Obstruction // none is that it may be built
	}{
		{"between pier and window", back(1.2, 1.2, 0.2), nil},
		{"as deep as allowed", back(1.2, 1.2, 0.3), nil},
		{"too deep", back(1.2, 1.2, 0.4), []Obstruction{{Kind: TooDeep, Wall: "back wall", Depth: 0.4, Allowed: 0.3}}},
		{"over the window", back(1.2, 1.8, 0.2), []Obstruction{{Kind: CoversOpening, Name: "window", Wall: "back wall"}}},
		{"beyond what may be covered", back(0, 0.7, 0.2), []Obstruction{{Kind: BeyondCover, Wall: "back wall"}, {Kind: InsideBlock, Name: "pier"}, {Kind: InSwing, Wall: "left wall"}}},
		{"a wall that may not", Treatment{Patch: Patch{Face: Left, Width: 1, Height: 1}, Layers: []Layer{wool(0.1)}}, []Obstruction{{Kind: BeyondCover, Wall: "left wall"}}},
		{"corner", corner(0.4, 0), nil},
		{"corner over the socket", corner(0.6, 0), []Obstruction{{Kind: TakesFreeSpace, Name: "socket"}}},
		{"corner above the socket", corner(0.6, 0.5), nil},
		{"cloud above the door's swing", cloud(0.1), nil},
		{"cloud too low", cloud(0.25), []Obstruction{{Kind: TooDeep, Wall: "ceiling", Depth: 0.35, Allowed: 0.3}}},
		{"panel in the desk", Treatment{Form: FreeStanding, Layers: []Layer{wool(0.1)}, Box: Block{Min: r3.Vec{X: 0.2, Y: 0.9}, Max: r3.Vec{X: 0.3, Y: 1.5, Z: 1}}}, []Obstruction{{Kind: InKeptClear, Name: "desk"}}},
	} {
		got := p.Obstructions(&c.t)
		if !slices.Equal(got, c.wants) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.wants)
		}
	}
	p.Stock = nil
	free := Treatment{Patch: Patch{Face: Left, Width: 1, Height: 1}, Layers: []Layer{wool(0.9)}}
	if got := p.Obstructions(&free); got != nil {
		t.Errorf("without stock: %v", got)
	}
}

func TestStockTitles(t *testing.T) {
	t.Parallel()
	b := Batt{Layer: Layer{Text: "stone wool batts", Thickness: 0.1016}, Length: 1.2, Width: 0.5}
	if b.Pack() != 1 || b.Area() != 0.6 {
		t.Errorf("%d to a pack, %v m²", b.Pack(), b.Area())
	}
	if got := (Roll{Layer: Layer{Text: "film 100 µm"}}).Title(); got != "film 100 µm" {
		t.Errorf("%q", got)
	}
}
