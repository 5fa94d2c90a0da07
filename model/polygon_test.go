package model

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// ell is a rectangle of 5 m x 4 m without its far corner of 2 m x 1.5 m: 17 m².
func ell() Polygon {
	return Polygon{{}, {X: 5}, {X: 5, Y: 2.5}, {X: 3, Y: 2.5}, {X: 3, Y: 4}, {Y: 4}}
}

func TestPolygonArea(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		p    Polygon
		want float64 // by hand, m²
	}{
		{"ell", ell(), 17},
		{"none", nil, 0},
		{"triangle", Polygon{{X: 1, Y: 1}, {X: 4, Y: 1}, {X: 1, Y: 3}}, 3},
		{"regular octagon", octagon(), 2 * math.Sqrt2}, // 2√2 R²
	} {
		if got := c.p.Area(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v m², want %v", c.name, got, c.want)
		}
		turned := slices.Clone(c.p)
		slices.Reverse(turned)
		if got := turned.Area(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s turned round: %v m², want %v", c.name, got, c.want)
		}
	}
}

func octagon() Polygon {
	var p Polygon
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		p = append(p, r2.Vec{X: cos, Y: sin})
	}
	return p
}

func TestPolygonCrossing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name    string
		p       Polygon
		crosses bool
	}{
		{"ell", ell(), false},
		{"bow tie", Polygon{{}, {X: 2, Y: 2}, {X: 2}, {Y: 2}}, true},
		{"touching", Polygon{{}, {X: 4}, {X: 4, Y: 2}, {X: 2, Y: 0}, {Y: 2}}, true},
		{"octagon", octagon(), false},
	} {
		if _, _, got := c.p.Crossing(); got != c.crosses {
			t.Errorf("%s: crosses %v, want %v", c.name, got, c.crosses)
		}
	}
}

func TestPolygonPlaces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		at              r2.Vec
		inside          bool
		distance, ahead float64 // m, by hand
	}{
		{r2.Vec{X: 1, Y: 1}, true, 1, 4},
		{r2.Vec{X: 2.5, Y: 3.5}, true, 0.5, 0.5}, // in the short leg
		{r2.Vec{X: 4, Y: 3}, false, 0.5, 0},      // in the notch
		{r2.Vec{X: 3.3, Y: 2.9}, false, 0.3, 0},
	} {
		p := ell()
		if got := p.Contains(c.at); got != c.inside {
			t.Errorf("%v: inside %v", c.at, got)
		}
		if got := p.Distance(c.at); math.Abs(got-c.distance) > 1e-12 {
			t.Errorf("%v: %v m from the nearest edge, want %v", c.at, got, c.distance)
		}
		if got := p.Ahead(c.at); math.Abs(got-c.ahead) > 1e-12 {
			t.Errorf("%v: %v m ahead, want %v", c.at, got, c.ahead)
		}
	}
}

// Windows that tile the plane cut a polygon into pieces that make the whole.
func TestPolygonWindowsTile(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0.1, 4.9).Draw(t, "x")
		y := rapid.Float64Range(0.1, 3.9).Draw(t, "y")
		var sum float64
		for _, xs := range []Range{{0, x}, {x, 5}} {
			for _, ys := range []Range{{0, y}, {y, 4}} {
				sum += ell().Window(xs, ys).Area()
			}
		}
		if math.Abs(sum-17) > 1e-9 {
			t.Fatalf("the four pieces about %v, %v are %v m²", x, y, sum)
		}
	})
}
