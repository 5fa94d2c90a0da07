package geometry

import (
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
