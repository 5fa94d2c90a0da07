package build

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// lofty gives the example a slope of 45 degrees over its left side, 1.4 m high at the
// wall, and one fill.
func lofty(walls [2]model.Face, square bool, leg, from, to float64) func(*model.Project) {
	return func(p *model.Project) {
		r := &p.Room
		r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.4}, {X: r.Size.X, Z: 1.4}, {Y: 1, Z: 2.4}}}}
		fill := r.Treatments[1]
		fill.Corner = model.Corner{Walls: walls, Square: square, Leg: leg, From: from, To: to}
		r.Treatments = []model.Treatment{fill}
	}
}

// A fill along the eaves, by hand: legs of 0.5 m at 135 degrees have 0.5² sin 135°/2 of
// section, 0.924 m between their ends and half of that by 0.191 m for the halves of a
// layer; 2.4 m take 24 layers of 10 cm, of which a batt of 1.2 x 0.6 m gives six halves'
// worth at least.
func TestFillAlongTheEaves(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, lofty([2]model.Face{model.Left, model.Ceiling}, false, 0.5, 1, 3.4))
	p := plan.Pieces[0]
	sin, cos := math.Sincos(67.5 * math.Pi / 180)
	area := 0.25 * math.Sqrt2 / 4
	if p.Slabs != 48 || math.Abs(p.Height-2.4) > 1e-9 || math.Abs(p.Width-2*0.5*sin) > 1e-9 || math.Abs(p.Depth-0.5*cos) > 1e-9 || !p.Level {
		t.Errorf("%+v: want 48 halves, 2.4 m long, %.3f m wide, %.3f m deep, level", p, 2*0.5*sin, 0.5*cos)
	}
	if wool := area * 2.4 * 14; p.Weight.Low < wool || p.Weight.Low > 3*wool+12 {
		t.Errorf("it weighs %v kg, its wool alone %.2f kg", p.Weight, wool)
	}
	for _, s := range plan.Batts[0].Shapes {
		if s.Triangle || math.Abs(max(s.Width, s.Height)-0.5*sin) > 1e-9 || math.Abs(min(s.Width, s.Height)-0.5*cos) > 1e-9 {
			t.Fatalf("shape %+v, want %.3f by %.3f m", s, 0.5*sin, 0.5*cos)
		}
	}
	if !told(plan, "cut from corner to corner") {
		t.Errorf("notes %v do not say how to cut", plan.Notes)
	}
}

// What a slope cuts is as long as it is where that is highest, and said to be cut; up a
// gable the edge is as long as the slope.
func TestFillsAtSlopes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(*model.Project)
		length float64
		note   string
	}{
		{"low corner", lofty([2]model.Face{model.Front, model.Left}, false, 0.42, 0, 2.4), 1.4 + 0.42, "ends at the slope"},
		{"high corner", lofty([2]model.Face{model.Front, model.Right}, false, 0.42, 0, 2.4), 2.4, ""},
		{"gable", lofty([2]model.Face{model.Front, model.Ceiling}, false, 0.42, 0, 1), math.Sqrt2, ""},
		{"square along the eaves", lofty([2]model.Face{model.Left, model.Ceiling}, true, 0.3, 1, 3), 2, "to its angle, and put what comes off to the other end"},
	} {
		_, plan := planned(t, c.change)
		if got := plan.Pieces[0].Height; math.Abs(got-c.length) > 1e-9 {
			t.Errorf("%s: %g m long, want %g", c.name, got, c.length)
		}
		if c.note != "" && !told(plan, c.note) || c.note == "" && (told(plan, "slope") || told(plan, "angle")) {
			t.Errorf("%s: notes %v, want %q", c.name, plan.Notes, c.note)
		}
	}
}

// told reports whether a note of the plan has the words.
func told(p *Plan, words string) bool {
	for _, n := range p.Notes {
		if strings.Contains(fmt.Sprint(n.Words...), words) {
			return true
		}
	}
	return false
}
