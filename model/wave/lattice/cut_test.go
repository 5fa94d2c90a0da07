package lattice

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

// An attic in L shape, with a roof from two sides and a chimney breast.
func attic() scene.Scene {
	return scene.Scene{
		Size: r3.Vec{X: 5.2, Y: 4.1, Z: 2.9}, Air: model.AirAt(0),
		Outline: []r2.Vec{{}, {Y: 4.1}, {X: 3.1, Y: 4.1}, {X: 3.1, Y: 2.63}, {X: 5.2, Y: 2.63}, {X: 5.2}},
		Slopes: []scene.Slope{
			{Height: 1.1, Rise: r2.Vec{Y: 0.9}}, {Height: 4.3, Rise: r2.Vec{Y: -0.8}}, {Height: 2.8},
		},
		Blocks: []scene.Solid{
			{Min: r3.Vec{X: 0, Y: 1.2}, Max: r3.Vec{X: 0.41, Y: 2.33, Z: 2.9}},
			{Min: r3.Vec{X: 0.3, Y: 2, Z: 0.7}, Max: r3.Vec{X: 1.1, Y: 2.9, Z: 0.75}},
		},
	}
}

// The cells together hold the room's air, whatever was lent among them.
func TestCutKeepsVolume(t *testing.T) {
	t.Parallel()
	s := attic()
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	h := scene.NewShape(&s)
	for _, cell := range []float64{0.1, 0.17} {
		m := New(&s, cell)
		var sum float64
		for _, v := range m.volume {
			sum += v
		}
		got, want := sum*m.Cells.Volume(), h.Air(r3.Vec{}, s.Size)
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("cell %.2f m: %.6f m³, want %.6f", cell, got, want)
		}
	}
}

// A surface has the area that it has, however the cells cut it.
func TestCutKeepsArea(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	soft := scene.Resistive(0.1, air)
	s := attic()
	s.Slopes[0].Surface = soft
	s.Slopes[1].Surface = soft
	s.Blocks[1].Surface = soft
	s.Edges = append(s.Edges, scene.Resistive(0, air), scene.Resistive(0, air), soft)
	s.Walls[model.Floor] = soft
	m := New(&s, 0.1)
	area := map[int]float64{}
	for _, w := range m.Walls {
		area[w.Surface] += w.Area
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
