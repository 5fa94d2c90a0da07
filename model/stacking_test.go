package model

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func slab(thickness float64) Layer {
	return Layer{Kind: PorousLayer, Thickness: thickness, Resistivity: 6000}
}

// layered is the ordinary room with a rear layer behind film and a filled corner.
func layered() *Project {
	p := ordinary()
	p.Room.Treatments = []Treatment{
		{Name: "rear", Patch: Patch{Face: Back, Along: 0.6, Width: 2, Height: 2}, Layers: []Layer{{Kind: FilmLayer, Thickness: 1e-4}, slab(0.2)}},
		{Name: "corner", Form: InCorner, Corner: Corner{Walls: [2]Face{Back, Left}, Leg: 0.4, To: 2.5}, Layers: []Layer{slab(0)}},
	}
	return p
}

// A piece that is doubled has twice its wool behind the same film; what goes before it comes
// first. Where a part stands already, only the rest is missing.
func TestStacking(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		option   Option
		kinds    []LayerKind
		depth    float64
		missing  int // layers, with the air that stands for what is there
		distance float64
	}{
		{"double", Option{Double: []string{"rear"}}, []LayerKind{FilmLayer, PorousLayer, PorousLayer}, 0.4001, 3, 0.2},
		{"front", Option{Front: []Treatment{{Name: "rear", Layers: []Layer{slab(0.05)}}}}, []LayerKind{PorousLayer, FilmLayer, PorousLayer}, 0.2501, 2, 0.2001},
	} {
		p := layered()
		p.Room.Treatments[0].Built = 2
		q, err := p.With(&c.option)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		piece := q.Room.Treatments[0]
		var kinds []LayerKind
		for _, l := range piece.Layers {
			kinds = append(kinds, l.Kind)
		}
		if len(kinds) != len(c.kinds) || kinds[0] != c.kinds[0] || kinds[1] != c.kinds[1] || !near6(piece.Depth(), c.depth) {
			t.Errorf("%s: layers %v, %v m deep", c.name, kinds, piece.Depth())
		}
		rest, lacks := piece.Missing()
		if !lacks || len(rest.Layers) != c.missing || !near6(rest.Layers[len(rest.Layers)-1].Thickness, c.distance) {
			t.Errorf("%s: missing %+v", c.name, rest.Layers)
		}
		if len(p.Room.Treatments[0].Layers) != 2 {
			t.Errorf("%s: the room itself has changed", c.name)
		}
	}
	if _, lacks := (Treatment{Layers: []Layer{slab(0.1)}, Built: 1}).Missing(); lacks {
		t.Error("what stands is missing")
	}
}

func near6(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// What would be inside another piece is refused, with the way to say it.
func TestCollisions(t *testing.T) {
	t.Parallel()
	wall := func(from, width float64) Treatment {
		return Treatment{Name: "new", Patch: Patch{Face: Back, Along: from, Width: width, Height: 2}, Layers: []Layer{slab(0.1)}}
	}
	for _, c := range []struct {
		name   string
		option Option
		want   string // "" is no error
	}{
		{"beside it", Option{Add: []Treatment{wall(2.6, 0.5)}}, ""},
		{"on it", Option{Add: []Treatment{wall(1, 1)}}, `write front "rear" with the new layers; to make that one deeper, double "rear"`},
		{"in a corner fill", Option{Add: []Treatment{wall(0.1, 0.45)}}, `takes the space of "corner": end one where the other begins`},
		{"beside the triangle", Option{Add: []Treatment{wall(0.4, 0.2)}}, ""},
		{"free standing inside", Option{Add: []Treatment{{Form: FreeStanding, Box: Block{Min: r3.Vec{X: 4, Y: 1}, Max: r3.Vec{X: 4.1, Y: 2, Z: 1}}, Layers: []Layer{slab(0.1)}}}}, `takes the space of "rear"`},
		{"corner doubled", Option{Double: []string{"corner"}}, "write move with a longer leg"},
		{"no such piece", Option{Front: []Treatment{{Name: "read", Layers: []Layer{slab(0.1)}}}}, `no treatment is called "read"; there are "rear", "corner"`},
	} {
		_, err := layered().With(&c.option)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	p := layered()
	p.Room.Treatments = append(p.Room.Treatments, wall(1, 1))
	if problems := p.Validate(); len(problems) != 1 || problems[0].Path != "treatments[2]" {
		t.Errorf("in a room file: %v", problems)
	}
}
