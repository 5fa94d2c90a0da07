package heatmap

import (
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response/spectraldecay"
	"evenbass/report/svg"
)

// falling is a map in which every tone begins at 0 dB and falls by so many dB a second.
func falling(rate float64) *spectraldecay.Map {
	m := &spectraldecay.Map{Grid: model.NewGrid(25, 300, 96, 0)}
	for k := range 101 {
		m.Times = append(m.Times, float64(k)/100)
		row := make([]model.Level, len(m.Grid))
		for i := range row {
			row[i] = model.Level(-rate * m.Times[k])
		}
		m.Levels = append(m.Levels, row)
	}
	return m
}

func TestFit(t *testing.T) {
	t.Parallel()
	fast, slow := Panel{Map: falling(200)}, Panel{Map: falling(60), Reference: -7}
	s := Fit(fast, slow)
	// The slow one begins 7 dB above its reference: the top step is 5 dB, the bottom -45 dB,
	// which it reaches after 52/60 s.
	if s.Top != 5 || math.Abs(s.Long-0.9) > 1e-9 {
		t.Errorf("%+v, want a top of 5 dB and 0.9 s", s)
	}
	if s := Fit(fast); s.Long != 0.4 {
		t.Errorf("%g s for a fast room, want the least of 0.4", s.Long)
	}
}

// What falls by 60 dB a second is 20 dB below after 333 ms, drawn and told.
func TestDraw(t *testing.T) {
	t.Parallel()
	p := Panel{ID: "before", Title: "Before", Map: falling(60)}
	s := Fit(p)
	d := Draw(p, s)
	if want := "333 ms at 63 Hz"; !strings.Contains(d.Desc, want) {
		t.Errorf("%q lacks %q", d.Desc, want)
	}
	var fall string
	for _, shape := range d.Shapes {
		if shape.Class == "fall" {
			fall = shape.D
		}
		if shape.Class == "veil" {
			t.Error("a prediction has a veil of noise")
		}
	}
	if want := "M46 100L"; !strings.HasPrefix(fall, want) { // 22 + 234·0.333/1 s
		t.Errorf("the line of what is gone begins %.20q, want %q; scale %+v", fall, want, s)
	}
	markup, err := d.SVG()
	if err != nil || !strings.Contains(string(markup), `class="area loud-9"`) {
		t.Errorf("no loud area: %v", err)
	}
	p.Map.Noise = make([]model.Level, len(p.Map.Grid))
	for i := range p.Map.Noise {
		p.Map.Noise[i] = -18
	}
	markup, err = Draw(p, s).SVG()
	if err != nil || !strings.Contains(string(markup), `class="veil"`) || strings.Contains(string(markup), `class="fall" d="M`) {
		t.Errorf("noise 18 dB below veils nothing, or a line is drawn in it: %v", err)
	}
	ridges, err := Ridges("ridges", "Before and after", s, p, p).SVG()
	if err != nil || strings.Count(string(ridges), `class="ridge state-2"`) != len(moments(s.Long)) {
		t.Errorf("not as many ridges as moments: %v", err)
	}
	key, err := Key("key", s).SVG()
	if err != nil || strings.Count(string(key), "swatchbox") != shades {
		t.Errorf("key: %v", err)
	}
}

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
