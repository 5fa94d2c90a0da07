package model

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Layers on a sloped ceiling are as large as the slope: with sides of 3, 4 and 5, 0.8 m of plan are 1 m. Past the
// ridge they end 0.2·3/4 m from it on either side, so that square edges clear each other.
func TestFaceArea(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4, Y: 3.2, Z: 2.4}
	roof := Room{Size: size, Slopes: ridge(size, 1.2, 2.4)}
	for _, c := range []struct {
		name string
		t    Treatment
		want float64 // m²
	}{
		{"one plane", onWall(Ceiling, 1, 0.2, 0.6, 0.8, 0.2), 0.6},
		{"past the ridge", onWall(Ceiling, 1, 1.2, 0.6, 0.8, 0.2), 0.6 * (1 - 2*0.2*0.75)},
		{"gable", onWall(Back, 0.4, 0, 0.8, 2.4, 0.2), 0.8 * (1.8 - SlopeClearance*1.25)},
		{"below it", onWall(Back, 0.4, 0, 0.8, 1, 0.2), 0.8},
	} {
		if got := roof.FaceArea(&c.t); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%s: %g m², want %g", c.name, got, c.want)
		}
	}
}

// Below the high part of layers on a slope there is room, and none within them: their lower side is 0.2·5/4 m below
// the slope.
func TestSpacesBelowASlope(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4, Y: 3.2, Z: 2.4}
	roof := Room{Size: size, Slopes: ridge(size, 1.2, 2.4)}
	layers := onWall(Ceiling, 1, 0, 2, 1.6, 0.2)
	inside := func(y, z float64) bool {
		for b := range roof.Spaces(&layers) {
			if b.Contains(r3.Vec{X: 2, Y: y, Z: z}) {
				return true
			}
		}
		return false
	}
	for y := 0.01; y < 1.6; y += 0.05 {
		under := 1.2 + 0.75*y - 0.25
		if !inside(y, under+0.01) || inside(y, under-0.01-0.75*strip) {
			t.Errorf("%g m from the low wall, where the layers begin at %g m, they are taken to be elsewhere", y, under)
		}
	}
	n, whole := 0, onWall(Back, 0, 0, 1, 1, 0.2)
	for range roof.Spaces(&whole) {
		n++
	}
	if n != 1 {
		t.Errorf("layers on a wall stand in %d boxes", n)
	}
}
