package floormap

import (
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/response"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// sketch is a map of a floor of 3 x 5 places, a metre apart, by hand: n is blank, and
// a minus stands before what a rule forbids.
func sketch() *Spread {
	n := math.NaN()
	m := &Spread{Floor: Floor{X: []float64{0.5, 1.5, 2.5}, Y: []float64{0.5, 1.5, 2.5, 3.5, 4.5}, Height: 1.2}}
	for _, v := range []float64{
		5, 6, n, 3.2, 7,
		-2, 9, n, 4, 3.5,
		8, 4.1, n, -1, 6,
	} {
		rule := model.Rule{}
		if v < 0 {
			v, rule.Kind = -v, model.SeatObstacle
		}
		m.Spread, m.Rule = append(m.Spread, model.Level(v)), append(m.Rule, rule)
	}
	return m
}

func TestSpreadMapReads(t *testing.T) {
	t.Parallel()
	m := sketch()
	if best, ok := m.Best(m.Allowed); !ok || best != 3 {
		t.Errorf("the best allowed place is %d", best)
	}
	if best, ok := m.Best(m.Open); !ok || best != 13 {
		t.Errorf("the best place of all is %d", best)
	}
	if worst, ok := m.Worst(m.Allowed); !ok || worst != 6 {
		t.Errorf("the worst allowed place is %d", worst)
	}
	// Of ten allowed places 3.2, 3.5, 4 and 4.1 dB are within a decibel of the best.
	if got := m.Within(1, m.Allowed); math.Abs(got-4.0/10) > 1e-12 {
		t.Errorf("%v of the allowed floor is within 1 dB", got)
	}
	nowhere := func(int) bool { return false }
	if _, ok := m.Best(nowhere); ok || m.Within(1, nowhere) != 0 {
		t.Error("there is a best of nothing")
	}
	if d := cmp.Diff([]int{3, 11, 0}, m.Places(9, 1.2)); d != "" {
		t.Error("local minima: " + d)
	}
	if d := cmp.Diff([]int{3, 11}, m.Places(2, 1.2)); d != "" {
		t.Error("the first two: " + d)
	}
}

func TestSpreadMapReach(t *testing.T) {
	t.Parallel()
	m := &Spread{Floor: floorAround(r3.Vec{X: 1, Y: 1, Z: 1}, 0.1, 0.05)}
	for n := range m.Len() {
		m.Spread = append(m.Spread, model.Level(model.Plan(m.Place(n), r3.Vec{X: 1, Y: 1})))
	}
	for _, radius := range []float64{0, 0.05, 0.1} {
		if got := m.Reach(radius); math.Abs(float64(got)-radius) > 1e-9 {
			t.Errorf("within %v m the spread is up to %v", radius, got)
		}
	}
}

// Whatever the map: places found are allowed, apart from each other and in order, the
// first is the best of all, and the share within a bound only grows with it, up to 1.
func TestSpreadMapProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		m := &Spread{Floor: newFloor(r3.Vec{X: 3, Y: 2}, 1, 0.4)}
		for range m.Len() {
			v := rapid.Float64Range(0, 20).Draw(t, "spread")
			if rapid.IntRange(0, 4).Draw(t, "blank") == 0 {
				v = math.NaN()
			}
			m.Spread = append(m.Spread, model.Level(v))
			m.Rule = append(m.Rule, rapid.SampledFrom([]model.Rule{{}, {}, {Kind: model.SeatZone}}).Draw(t, "rule"))
		}
		places := m.Places(5, 0.5)
		best, ok := m.Best(m.Allowed)
		if ok != (len(places) > 0) || ok && m.Spread[places[0]] != m.Spread[best] {
			t.Fatalf("best %d of %v", best, places)
		}
		for i, n := range places {
			if !m.Allowed(n) || i > 0 && m.Spread[n] < m.Spread[places[i-1]] {
				t.Fatalf("place %d of %v", n, places)
			}
			for _, o := range places[:i] {
				if model.Plan(m.Place(n), m.Place(o)) < 0.5 {
					t.Fatalf("%d and %d are too near", n, o)
				}
			}
		}
		a, b := rapid.Float64Range(0, 25).Draw(t, "a"), rapid.Float64Range(0, 25).Draw(t, "b")
		if small, large := m.Within(model.Level(min(a, b)), m.Open), m.Within(model.Level(max(a, b)), m.Open); small > large {
			t.Fatalf("%v within %v dB, %v within %v dB", small, min(a, b), large, max(a, b))
		}
		if _, any := m.Best(m.Open); any && m.Within(20, m.Open) != 1 {
			t.Fatal("not all is within 20 dB")
		}
	})
}

// A lattice covers its floor evenly: places are within half a pace of all of it, and
// each is the nearest to itself.
func TestFloorProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := r3.Vec{X: rapid.Float64Range(0.3, 12).Draw(t, "length"), Y: rapid.Float64Range(0.3, 9).Draw(t, "width")}
		f := newFloor(size, 1.2, rapid.Float64Range(0.1, 0.5).Draw(t, "pace"))
		dx, dy := f.Pitch()
		if math.Abs(f.X[0]-dx/2) > 1e-3 || math.Abs(size.Y-f.Y[len(f.Y)-1]-dy/2) > 1e-3 || len(f.Y)%2 != 1 {
			t.Fatalf("%v by %v m: rows %v, columns %v", size.X, size.Y, f.X, f.Y)
		}
		n := rapid.IntRange(0, f.Len()-1).Draw(t, "place")
		if got := f.Nearest(f.Place(n)); got != n {
			t.Fatalf("the nearest to place %d is %d", n, got)
		}
	})
}

// The frequencies that stand for a curve: its dips first, then its peak; a flat curve has
// at most its lowest and highest point.
func TestRevealing(t *testing.T) {
	t.Parallel()
	grid := model.DefaultGrid()
	goal := model.Goal{From: 30, To: 300, Smoothing: 12}
	air := model.AirAt(0)
	r := response.NewReader(grid, air, goal)
	curve := model.FreeField(nil, grid, air, 1)
	bell := func(at, depth float64) {
		for i, f := range grid {
			x := math.Log2(f/at) / 0.12
			curve[i] *= complex(math.Pow(10, depth/20*math.Exp(-x*x)), 0)
		}
	}
	bell(50, 9)
	bell(80, -14)
	bell(120, -11)
	bell(200, -6)
	got := revealing(r, curve)
	want := []float64{80, 120, 50}
	if len(got) != 3 {
		t.Fatalf("revealing are %v", got)
	}
	for i := range want {
		if math.Abs(got[i]/want[i]-1) > 0.05 {
			t.Errorf("revealing are %v, want %v", got, want)
		}
	}
	if flat := revealing(r, model.FreeField(nil, grid, air, 1)); len(flat) > 2 {
		t.Errorf("a flat curve has %v", flat)
	}
}

// A map's grid ascends, stays on the engine's grid and holds what was asked for.
func TestMapGrid(t *testing.T) {
	t.Parallel()
	grid := model.DefaultGrid()
	got := mapGrid(grid, model.Goal{From: 30, To: 200}, model.Grid{42, 250})
	if len(got) < sliderSteps || len(got) > sliderSteps+2 {
		t.Errorf("%d frequencies", len(got))
	}
	if !slices.IsSorted(got) || !slices.Contains(got, grid[grid.Nearest(42)]) || !slices.Contains(got, grid[grid.Nearest(250)]) {
		t.Errorf("the grid is %v", got)
	}
	for _, f := range got {
		if !slices.Contains(grid, f) {
			t.Errorf("%v Hz is not on the engine's grid", f)
		}
	}
}
