package heatmap

import (
	"math"
	"testing"

	"evenbass/report/svg"
)

// hill is a grid of n × n nodes over the square from -1 to 1.
func hill(n int, f func(x, y float64) float64) *grid {
	g := &grid{}
	for i := range n {
		v := -1 + 2*float64(i)/float64(n-1)
		g.x, g.y = append(g.x, v), append(g.y, v)
	}
	g.at = func(row, column int) float64 { return f(g.x[column], g.y[row]) }
	return g
}

// size returns the area within lines, holes taken off, by the shoelace formula.
func size(lines [][]svg.Point) float64 {
	var sum float64
	for _, line := range lines {
		for i, p := range line {
			q := line[(i+1)%len(line)]
			sum += (p.X*q.Y - q.X*p.Y) / 2
		}
	}
	return math.Abs(sum)
}

// Areas known by hand: a disc, a ring, a half plane that ends at the rim, everything, nothing,
// and two quarters that meet at a saddle.
func TestContours(t *testing.T) {
	t.Parallel()
	cone := func(x, y float64) float64 { return -math.Hypot(x, y) }
	for _, c := range []struct {
		name      string
		f         func(x, y float64) float64
		threshold float64
		lines     int
		area      float64
	}{
		{"disc", cone, -0.5, 1, math.Pi / 4},
		{"ring", func(x, y float64) float64 { return -math.Abs(math.Hypot(x, y) - 0.6) }, -0.2, 2, math.Pi * (0.64 - 0.16)},
		{"half", func(x, y float64) float64 { return x }, 0.25, 1, 1.5},
		{"all", cone, -9, 1, 4}, {"nothing", cone, 1, 0, 0},
		{"saddle", func(x, y float64) float64 { return x * y }, 0.01, 2, 2 * (1 - 0.01*(1+math.Log(100)))},
	} {
		lines := hill(81, c.f).contours(c.threshold)
		if len(lines) != c.lines || math.Abs(size(lines)-c.area) > 0.01 {
			t.Errorf("%s: %d lines about an area of %.4f, want %d about %.4f", c.name, len(lines), size(lines), c.lines, c.area)
		}
	}
}

// Leaving points out moves no line farther than it may.
func TestThin(t *testing.T) {
	t.Parallel()
	var line []svg.Point
	for i := range 400 {
		x := float64(i) / 4
		line = append(line, svg.XY(x, 10*math.Sin(x/8)))
	}
	short := thin(line, 0.25)
	if len(short) > 60 || short[0] != line[0] || short[len(short)-1] != line[len(line)-1] {
		t.Fatalf("%d of %d points left", len(short), len(line))
	}
	for _, p := range line {
		near := math.Inf(1)
		for i := 1; i < len(short); i++ {
			if p.X >= short[i-1].X && p.X <= short[i].X {
				near = min(near, distance(p, short[i-1], short[i]))
			}
		}
		if near > 0.2501 {
			t.Fatalf("%v is %.3f from the line", p, near)
		}
	}
}
