package build

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
)

// Faces a few millimetres larger than whole batts take no strip of that width, by hand; one of 1.5 cm is cut.
func TestSliversAreNotCut(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name          string
		batt          [2]float64 // m
		treatment     int        // of the example: the back layer of two plies, a corner of 24 layers, the bag of two slabs
		width, height float64    // of the face, m; of the corner the legs
		parts         int
		pressed       bool
	}{
		{"a wall of 90.3 cm", [2]float64{1.2, 0.3}, 0, 0.903, 1.2, 2*2 + 2*1, false}, // frames of 60 and 30.3 cm
		{"a wall of 91.5 cm", [2]float64{1.2, 0.3}, 0, 0.915, 1.2, 2*2 + 2*2, false},
		{"a bag of 60.5 cm", [2]float64{1.2, 0.6}, 6, 0.605, 1.2, 2, false},
		{"a bag both larger and smaller", [2]float64{1.2, 0.6}, 6, 0.609, 1.19, 2, true},
		{"a bag of 60.5 by 120.5 cm", [2]float64{1.2, 0.6}, 6, 0.605, 1.205, 2, false},
		{"a square fill of 60.3 cm", [2]float64{1.2, 0.6}, 1, 0.603, 0.603, 24, false},
		{"a square fill of 61.5 cm", [2]float64{1.2, 0.6}, 1, 0.615, 0.615, 24 * 2, false},
	} {
		_, plan := planned(t, func(p *model.Project) {
			p.Stock.Batts = p.Stock.Batts[:1]
			p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = c.batt[0], c.batt[1]
			p.Room.Treatments = p.Room.Treatments[c.treatment : c.treatment+1]
			sized(&p.Room.Treatments[0], c.width, c.height)
		})
		slabs, pressed := 0, false
		for _, q := range plan.Pieces {
			slabs, pressed = slabs+q.Slabs, pressed || q.Pressed
		}
		if n := len(plan.Batts[0].Shapes); n != c.parts || slabs != c.parts || pressed != c.pressed {
			t.Errorf("%s: %d parts, %d slabs, pressed in %v; want %d and %v", c.name, n, slabs, pressed, c.parts, c.pressed)
		}
	}
}

// sized gives a wall layer, a square fill or a standing panel of the example another face, m.
func sized(t *model.Treatment, width, height float64) {
	switch t.Form {
	case model.OnWall:
		t.Patch.Width, t.Patch.Height = width, height
	case model.InCorner:
		t.Corner.Leg, t.Corner.Square = width, true
	default:
		if t.Box.Thin() == 0 {
			t.Box.Max.Y = t.Box.Min.Y + width
		} else {
			t.Box.Max.X = t.Box.Min.X + width
		}
		t.Box.Max.Z = t.Box.Min.Z + height
	}
}

// Whatever the batts and the faces, under a slope or not: no part is a strip that is too narrow to cut, each ply
// covers its face but for such strips, and a piece has as many slabs as the cut list.
func TestPartsAreWideEnough(whole *testing.T) {
	whole.Parallel()
	rapid.Check(whole, func(t *rapid.T) {
		m := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		length, width, eaves := m(0.15, 1.5, "length"), m(0.1, 0.7, "width"), m(0.4, 2.2, "eaves")
		project := testProject(whole, func(p *model.Project) {
			bag, corner := p.Room.Treatments[6], p.Room.Treatments[1]
			sized(&bag, m(0.3, 1.5, "bag"), m(0.3, 1.5, "bag high"))
			corner.Corner.Leg, corner.Corner.Square = m(0.1, 0.9, "leg"), rapid.Bool().Draw(t, "square")
			l := layer(model.Back, 0, 0, m(0.3, 2.4, "w"), m(0.3, 2.4, "h"))
			if p.Room.Treatments = []model.Treatment{l, corner, bag}; rapid.Bool().Draw(t, "roof") {
				roofed(eaves, l, bag)(p)
			}
			p.Stock.Batts = p.Stock.Batts[:1]
			p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = length, width
		})
		plan, err := Make(project)
		if err != nil {
			if strings.Contains(err.Error(), "of the right size?") {
				return
			}
			t.Fatal(err)
		}
		wool, parts := make([]float64, len(plan.Pieces)), make([]int, len(plan.Pieces)) // m²
		for _, s := range plan.Batts[0].Shapes {
			wool[s.Piece] += s.Area()
			parts[s.Piece]++
			if math.Min(s.Width, s.Height) <= sliver {
				t.Fatalf("a part of %v by %v m", s.Width, s.Height)
			}
		}
		for i, p := range plan.Pieces {
			if parts[i] != p.Slabs {
				t.Fatalf("piece %d has %d parts and %d slabs", i, parts[i], p.Slabs)
			}
			if lost := 2*p.Area() - wool[i]; p.Kind != CornerFill && p.Outline == nil && lost > 2*sliver*(p.Width+p.Height)+slack {
				t.Fatalf("%v by %v m of two plies lack %v m² of wool", p.Width, p.Height, lost)
			}
		}
	})
}

// However small the triangles, only as many are counted on a sheet as there are: millions took gigabytes.
func TestTinyTriangles(t *testing.T) {
	t.Parallel()
	for _, leg := range []float64{5e-5, 1e-9} {
		n := nester{width: 1.2, height: 0.6}
		if held, beside := n.holds(leg, 6), n.beside(leg, 3, 6); held != 6 || beside != 6 {
			t.Errorf("legs of %v m: %d squares and %d beside crosses, want 6 and 6", leg, held, beside)
		}
		shapes := slices.Concat(triangles(11, leg), rectangles(3, 0.6, 0.5))
		nesting, err := Nest(shapes, 1.2, 0.6, 0)
		if err != nil {
			t.Fatal(err)
		}
		checkNesting(t, shapes, nesting, 1.2, 0.6)
	}
	// By hand: 4 by 2 squares of 0.3 m; a cross of 0.42 m with a cut right across above it leaves 0.78 by 0.42 m.
	n := nester{width: 1.2, height: 0.6}
	if held, beside := n.holds(0.3, 100), n.beside(0.3, 1, 100); held != 8 || beside != 2 {
		t.Errorf("%d squares and %d beside a cross, want 8 and 2", held, beside)
	}
}

// Batts far too small make a plan that is refused, and no more parts than it takes to say so.
func TestPartsAreBounded(t *testing.T) {
	t.Parallel()
	m := maker{plan: &Plan{Batts: []BattUse{{Batt: model.Batt{Length: 0.1, Width: 0.1}}}}}
	m.tile(0, 0, 15, 15, nil)
	m.wedge(0, 0, 4)
	if n := m.parts(); n != mostParts+1 {
		t.Errorf("%d parts are kept, want %d", n, mostParts+1)
	}
}
