package lattice

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// Whatever the zones: cells within them come in order, interpolations at places in a zone use no
// others, and none is further from all zones than such a block reaches.
func TestWithin(t *testing.T) {
	t.Parallel()
	air := wavetest.Den().Air
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.3, 2)
		room := r3.Vec{X: size.Draw(t, "length"), Y: size.Draw(t, "width"), Z: size.Draw(t, "height")}
		s := scene.Scene{Size: room, Air: air}
		m := New(&s, 0.1)
		place := func(name string) r3.Vec {
			share := rapid.Float64Range(0, 1)
			return r3.Vec{X: room.X * share.Draw(t, name+" x"), Y: room.Y * share.Draw(t, name+" y"), Z: room.Z * share.Draw(t, name+" z")}
		}
		var zones []model.Block
		for range rapid.IntRange(1, 3).Draw(t, "zones") {
			a, b := place("a"), place("b")
			zones = append(zones, model.Block{Min: r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)}, Max: r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)}})
		}
		list := m.Within(zones)
		if !slices.IsSorted(list) || len(slices.Compact(slices.Clone(list))) != len(list) {
			t.Fatalf("cells %v", list)
		}
		for _, z := range zones {
			share, span := place("in"), r3.Sub(z.Max, z.Min)
			p := r3.Add(z.Min, r3.Vec{X: share.X / room.X * span.X, Y: share.Y / room.Y * span.Y, Z: share.Z / room.Z * span.Z})
			cells, ok := m.Interpolation(p, 5, nil)
			if !ok {
				t.Fatalf("%v is not in the air", p)
			}
			for _, c := range cells {
				if _, ok := slices.BinarySearch(list, c.Cell); !ok {
					t.Fatalf("zones %v: the interpolation at %v uses cell %v", zones, p, m.place(int(c.Cell)))
				}
			}
		}
		for _, i := range list {
			if !slices.ContainsFunc(zones, func(z model.Block) bool { return m.beside(z, m.place(int(i))) }) {
				t.Fatalf("cell %v is far from zones %v", m.place(int(i)), zones)
			}
		}
	})
}

// beside reports whether a cell is in a zone, up to two cells from it, or one of four at a wall to
// which it is so near.
func (l *Cells) beside(z model.Block, c [3]int) bool {
	low, high := scene.Components(z.Min), scene.Components(z.Max)
	for a, n := range c {
		x := (float64(n) + 0.5) * l.H[a]
		near := x >= low[a]-2*l.H[a]-1e-9 && x <= high[a]+2*l.H[a]+1e-9
		start := n < 4 && low[a] < 2*l.H[a]
		end := n >= l.N[a]-4 && high[a] > float64(l.N[a]-2)*l.H[a]
		if !near && !start && !end {
			return false
		}
	}
	return true
}
