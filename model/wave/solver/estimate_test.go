package solver

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/wavetest"
)

// What is estimated before a room is cut is no less than what a run then holds, and at most twice of it: frames for
// as long as the run lasted, and the numbers of its field, by columns, cell by cell or of the whole room.
func TestNeed(t *testing.T) {
	t.Parallel()
	high := model.Block{Min: r3.Vec{X: 0.6, Y: 0.4, Z: 0.8}, Max: r3.Vec{X: 2, Y: 1.5, Z: 1.4}}
	for _, c := range []struct {
		name  string
		zones []model.Block
		cell  float64
	}{
		{"columns", []model.Block{flat(0.6, 2.88, 0, 1.5, 1), flat(1.1, 1.1, 0.9, 0.9, 1.6)}, 0.1},
		{"coarse columns", []model.Block{flat(0.3, 2.5, 0.4, 2.1, 1)}, 0.14},
		{"cells", []model.Block{high}, 0.1},
		{"whole room", nil, 0.14},
	} {
		grid := model.NewGrid(30, 250, 24, 0)
		s := wavetest.Den()
		set := Settings{Cell: c.cell, Longest: 0.5, Zones: c.zones}
		e, err := New(s, grid, set)
		if err != nil {
			t.Fatal(err)
		}
		source, _ := e.medium.Interpolation(r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}, e.top(), nil)
		r, err := e.system.Run(t.Context(), e.settings.Blocks, e.request(source))
		if err != nil {
			t.Fatal(err)
		}
		need := NeedOf(s.Size, s.Air, grid, set, r.Seconds())
		frames := 0
		for _, f := range r.Frames {
			frames += 4 * len(f)
		}
		within := func(what string, estimate float64, bytes int) {
			if share := estimate / float64(bytes); share < 1 || share > 2 {
				t.Errorf("%s: %s take %d bytes and are estimated at %.0f", c.name, what, bytes, estimate)
			}
		}
		within("frames", need.Frames, frames)
		field := 8 * len(e.newField(t.Context(), r).values)
		r.Release()
		if (e.rows.planes != nil) != (need.Folded < need.Field) {
			t.Errorf("%s: %d planes, but %.0f bytes folded and %.0f cell by cell", c.name, len(e.rows.planes), need.Folded, need.Field)
		}
		within("values", need.Folded, field)
	}
}
