package geometry

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
)

// Whatever the room's size, a place moved into it is in it.
func TestInsideIsInside(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) r3.Vec {
			g := rapid.Float64Range(lo, hi)
			return r3.Vec{X: g.Draw(t, name), Y: g.Draw(t, name), Z: g.Draw(t, name)}
		}
		size := draw("size", 0.5, 9)
		if at := Inside(draw("place", -1, 10), size); !(&model.Box{Size: size}).Contains(at) {
			t.Fatalf("%v is not in a room of %v", at, size)
		}
	})
}

// Parts of a span lie end to end, are equally long and end where it does.
func TestParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Span{Lo: rapid.Float64Range(-2, 2).Draw(t, "lo")}
		s.Hi = s.Lo + rapid.Float64Range(0, 5).Draw(t, "length")
		n := rapid.IntRange(1, 9).Draw(t, "parts")
		list := s.Parts(n)
		at := s.Lo
		for _, p := range list {
			if p.Lo != at || math.Abs(p.Length()-s.Length()/float64(n)) > 1e-12 {
				t.Fatalf("%v of %v begins elsewhere than at %v", p, s, at)
			}
			at = p.Hi
		}
		if len(list) != n || at != s.Hi {
			t.Fatalf("%d parts end at %v, want %d to %v", len(list), at, n, s.Hi)
		}
	})
}
