package svg

import (
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// The heights of low corners stand beside the pieces and blocks there, and keep clear of the letters on them.
func TestLowCornersBesidePieces(t *testing.T) {
	t.Parallel()
	p := &model.Project{Room: model.Room{
		Size:   r3.Vec{X: 5, Y: 4, Z: 2.4},
		Slopes: []model.Slope{{Through: [3]r3.Vec{{Z: 1.3}, {X: 5, Z: 1.3}, {Y: 1.4, Z: 2.4}}}}, // down to the left wall
		Treatments: []model.Treatment{
			{Name: "fill", Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.5, To: 1.3}},
		},
		Blocks: []model.Block{{Name: "chest", Min: r3.Vec{X: 4.4}, Max: r3.Vec{X: 5, Y: 0.9, Z: 0.8}}},
	}}
	for _, form := range []Form{Wide, Narrow} {
		d, v := NewTreatmentPlan(p, 0, form)
		at := slices.IndexFunc(d.Shapes, func(s Shape) bool { return s.Text == "130 cm high" })
		if at < 0 {
			t.Fatalf("no height in %v", d.Shapes)
		}
		pieces := []Rectangle{v.Box(p.Room.Space(&p.Room.Treatments[0])), v.Box(p.Room.Blocks[0])}
		for _, s := range d.Shapes[at:] {
			if !strings.HasSuffix(s.Text, " high") {
				continue
			}
			w := TextWidth(s.Text) + 2
			label := RectAt(float64(s.X)-w/2, float64(s.Y)-5.5, w, 11)
			for _, r := range pieces {
				if label.Overlap(r) > 0 {
					t.Errorf("form %d: %q at %v lies over %v", form, s.Text, label, r)
				}
			}
		}
		if slices.ContainsFunc(d.Taken, func(r Rectangle) bool { return slices.Contains(pieces, r) }) {
			t.Errorf("form %d: later labels may not stand on the pieces", form)
		}
	}
}
