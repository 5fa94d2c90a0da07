package scene

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
)

// An attic in L shape, with a roof from two sides and a chimney breast.
func attic() Scene {
	return Scene{
		Size: r3.Vec{X: 5.2, Y: 4.1, Z: 2.9}, Air: model.AirAt(0),
		Outline: []r2.Vec{{}, {Y: 4.1}, {X: 3.1, Y: 4.1}, {X: 3.1, Y: 2.63}, {X: 5.2, Y: 2.63}, {X: 5.2}},
		Slopes: []Slope{
			{Height: 1.1, Rise: r2.Vec{Y: 0.9}}, {Height: 4.3, Rise: r2.Vec{Y: -0.8}}, {Height: 2.8},
		},
		Blocks: []Solid{
			{Min: r3.Vec{X: 0, Y: 1.2}, Max: r3.Vec{X: 0.41, Y: 2.33, Z: 2.9}},
			{Min: r3.Vec{X: 0.3, Y: 2, Z: 0.7}, Max: r3.Vec{X: 1.1, Y: 2.9, Z: 0.75}},
		},
	}
}

// contains says by points where the attic's air is.
func contains(s Scene, p r3.Vec) bool {
	if p.X > 3.1 && p.Y > 2.63 {
		return false
	}
	for _, slope := range s.Slopes {
		if p.Z > slope.At(r2.Vec{X: p.X, Y: p.Y}) {
			return false
		}
	}
	for _, b := range s.Blocks {
		if (model.Block{Min: b.Min, Max: b.Max}).Contains(p) {
			return false
		}
	}
	return true
}

// Volumes against points thrown at random, in boxes of any size anywhere.
func TestShapeVolume(t *testing.T) {
	t.Parallel()
	s := attic()
	h := NewShape(&s)
	rng := rand.New(rand.NewPCG(3, 4))
	rapid.Check(t, func(t *rapid.T) {
		var low, high [3]float64
		for a, size := range Components(s.Size) {
			low[a] = rapid.Float64Range(0, size-0.1).Draw(t, "low")
			high[a] = rapid.Float64Range(low[a]+0.05, size).Draw(t, "high")
		}
		const n = 4000
		hits := 0
		for range n {
			var p [3]float64
			for a := range p {
				p[a] = low[a] + (high[a]-low[a])*rng.Float64()
			}
			if contains(s, Vec(p)) {
				hits++
			}
		}
		whole := (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2])
		share := float64(hits) / n
		if got := h.Air(Vec(low), Vec(high)) / whole; math.Abs(got-share) > 5*0.5/math.Sqrt(n) {
			t.Errorf("%v to %v: share of air %.4f, points say %.4f", low, high, got, share)
		}
	})
}

func TestClip(t *testing.T) {
	t.Parallel()
	square := model.Polygon{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}
	for _, test := range []struct {
		name string
		a    float64
		b    r2.Vec
		want float64
	}{
		{"all", 1, r2.Vec{X: 1}, 1},
		{"none", -2, r2.Vec{X: 1}, 0},
		{"half", -0.5, r2.Vec{X: 1}, 0.5},
		{"corner", -1.5, r2.Vec{X: 1, Y: 1}, 0.125},
	} {
		if got, _ := square.Clip(test.a, test.b).Moment(); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("%s: area %v, want %v", test.name, got, test.want)
		}
	}
}
