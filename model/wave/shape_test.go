package wave

import (
	"math"
	"math/rand/v2"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
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
		if p.Z > slope.at(r2.Vec{X: p.X, Y: p.Y}) {
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
	h := newShape(&s)
	rng := rand.New(rand.NewPCG(3, 4))
	rapid.Check(t, func(t *rapid.T) {
		var low, high [3]float64
		for a, size := range vector(s.Size) {
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
			if contains(s, point(p)) {
				hits++
			}
		}
		whole := (high[0] - low[0]) * (high[1] - low[1]) * (high[2] - low[2])
		share := float64(hits) / n
		if got := h.air(point(low), point(high)) / whole; math.Abs(got-share) > 5*0.5/math.Sqrt(n) {
			t.Errorf("%v to %v: share of air %.4f, points say %.4f", low, high, got, share)
		}
	})
}

// The cells together hold the room's air, whatever was lent among them.
func TestCutKeepsVolume(t *testing.T) {
	t.Parallel()
	s := attic()
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	h := newShape(&s)
	for _, cell := range []float64{0.1, 0.17} {
		m := newMedium(&s, cell)
		var sum float64
		for _, v := range m.volume {
			sum += v
		}
		got, want := sum*m.lattice.volume(), h.air(r3.Vec{}, s.Size)
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("cell %.2f m: %.6f m³, want %.6f", cell, got, want)
		}
	}
}

// A surface has the area that it has, however the cells cut it.
func TestCutKeepsArea(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	soft := Resistive(0.1, air)
	s := attic()
	s.Slopes[0].Surface = soft
	s.Slopes[1].Surface = soft
	s.Blocks[1].Surface = soft
	s.Edges = append(s.Edges, Resistive(0, air), Resistive(0, air), soft)
	s.Walls[model.Floor] = soft
	m := newMedium(&s, 0.1)
	area := map[int]float64{}
	for _, w := range m.walls {
		area[w.surface] += w.area
	}
	// Figures from the plan: the lower roof ends where it meets the flat ceiling, the
	// table's corner is inside the chimney breast.
	const (
		meet    = (2.8 - 1.1) / 0.9                   // y where roof and flat ceiling meet
		eaves   = (4.3 - 2.8) / 0.8                   // y where the flat ceiling ends on the other side
		flat    = 4.1                                 // y of the right wall
		inside  = 0.11 * 0.33                         // of the table on plan, in the chimney breast
		edges   = 0.8 + 0.8 - 0.11 + 0.9 + 0.9 - 0.33 // length of the table's edges in air
		chimney = 0.41 * 1.13
	)
	for i, want := range []float64{
		5.2*4.1 - 2.1*1.47 - chimney,                                                  // floor
		(flat - 2.63) * (4.3 - 0.8*(2.63+flat)/2),                                     // the notch's short wall
		math.Hypot(1, 0.9) * (meet*5.2 - 0.41*(meet-1.2)),                             // the lower roof
		math.Hypot(1, 0.8) * ((2.63-eaves)*5.2 + (flat-2.63)*3.1 - 0.41*(2.33-eaves)), // the other
		2*(0.8*0.9-inside) + 0.05*edges,                                               // the table
	} {
		if got := area[i]; math.Abs(got/want-1) > 0.01 {
			t.Errorf("surface %d: %.3f m², want %.3f", i, got, want)
		}
	}
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
