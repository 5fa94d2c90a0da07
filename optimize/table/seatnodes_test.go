package table

import (
	"evenbass/optimize/geometry"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The nodes of a line and those beside it give back any wave that crosses the seats: on
// the line to the tolerance of the grid, beside it to that of the sides times the fifth
// that 5 cm make. A wave cos(k·r) of any direction stands for a room's field.
func TestSeatNodesReproduceWaves(t *testing.T) {
	t.Parallel()
	const k = 2 * math.Pi * 200 / 343
	d := Domain{Seats: geometry.Area{X: geometry.Span{Lo: 1.6, Hi: 3.1}}, Line: Lines(1.55, 0.05, geometry.Span{Lo: 0, Hi: 3.1}), Ears: 1.2}
	const grid, beside = 5e-3, 0.1
	fit := func(tolerance float64) func(geometry.Span) axis {
		return func(s geometry.Span) axis { return newAxis(s, NodesFor(k, s.Length(), tolerance)) }
	}
	nodes := newSeatNodes(d, fit(grid), fit(beside))
	places := nodes.Places()
	if whole := 3 * len(nodes.x.nodes); len(places) >= whole {
		t.Errorf("%d nodes, a whole grid has %d", len(places), whole)
	}
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		phase := rapid.Float64Range(0, 2*math.Pi).Draw(t, "phase")
		wave := func(v r3.Vec) float64 { return math.Cos(k*(math.Cos(angle)*v.X+math.Sin(angle)*v.Y) + phase) }
		seat := r3.Vec{X: rapid.Float64Range(1.6, 3.1).Draw(t, "x"), Y: rapid.SampledFrom(d.Line).Draw(t, "y"), Z: 1.2}
		if !nodes.holds(seat) {
			t.Fatalf("%v is not held", seat)
		}
		var sum float64
		for _, s := range nodes.weights(seat) {
			sum += s.weight * wave(places[s.node])
		}
		most := grid
		if seat.Y != d.Line[0] {
			most += beside / 5
		}
		if off := math.Abs(sum - wave(seat)); off > most {
			t.Fatalf("%v: off by %v, allowed %v", seat, off, most)
		}
	})
	for _, v := range []r3.Vec{{X: 1.5, Y: 1.55, Z: 1.2}, {X: 2, Y: 1.53, Z: 1.2}, {X: 2, Y: 1.55, Z: 1.1}} {
		if nodes.holds(v) {
			t.Errorf("%v is held", v)
		}
	}
}

// Beside a wall there is one line less.
func TestLines(t *testing.T) {
	room := geometry.Span{Lo: 0, Hi: 3}
	for _, c := range []struct {
		y    float64
		want []float64
	}{{1.5, []float64{1.5, 1.45, 1.55}}, {0, []float64{0, 0.05}}, {2.98, []float64{2.98, 2.93, 3}}} {
		got := Lines(c.y, 0.05, room)
		if len(got) != len(c.want) {
			t.Fatalf("at %v: %v, want %v", c.y, got, c.want)
		}
		for i, y := range c.want {
			if !geometry.Same(got[i], y) {
				t.Errorf("at %v: %v, want %v", c.y, got, c.want)
			}
		}
	}
}
