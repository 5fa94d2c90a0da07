package heatmap

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response/spectraldecay"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// shades is the number of colours, one for each step of a scale; palette.css names them.
const shades = 11

// Scale is what colours and heights mean in all drawings that are to be compared.
type Scale struct {
	Top  model.Level // dB re a panel's reference: at and above it the loudest colour
	Long float64     // s shown
}

// Step is the distance between two colours, dB.
const Step = 5

// bottom is the level below which nothing is coloured.
func (s Scale) bottom() model.Level { return s.Top - Step*(shades-1) }

// Panel is one state of a room.
type Panel struct {
	ID, Title string // Title in a few words: "before, measured"
	Map       *spectraldecay.Map
	Reference model.Level // 0 dB of the drawing, on the map's scale
}

// Fit returns a scale for panels: its top is the next step above the loudest level, and it shows
// as much time as the levels need to sink out of sight, 0.4 s at least.
func Fit(panels ...Panel) Scale {
	top, long := model.Level(math.Inf(-1)), 0.4
	for _, p := range panels {
		for _, l := range p.Map.Levels[0] {
			top = max(top, l-p.Reference)
		}
	}
	s := Scale{Top: Step * model.Level(math.Ceil(float64(top)/Step)-1)}
	for _, p := range panels {
		for t, row := range p.Map.Levels {
			for _, l := range row {
				if l-p.Reference > s.bottom() {
					long = max(long, p.Map.Times[t])
				}
			}
		}
	}
	s.Long = math.Ceil(long*10-1e-9) / 10
	return s
}

// Sizes of a drawing.
const (
	width, height = 400.0, 292.0
	left, right   = 46.0, 386.0
	top, foot     = 22.0, 256.0
)

// frequencies are written on the axis, Hz (ISO 266).
var frequencies = []float64{20, 31.5, 50, 80, 125, 200, 300}

// area maps frequency and time to a drawing.
type area struct {
	from, to, long float64
}

func newArea(m *spectraldecay.Map, s Scale) area {
	return area{from: m.Grid[0], to: m.Grid[len(m.Grid)-1], long: min(s.Long, m.Times[len(m.Times)-1])}
}

func (a area) x(f float64) float64 {
	return left + (right-left)*math.Log(f/a.from)/math.Log(a.to/a.from)
}

func (a area) y(t float64) float64 { return top + (foot-top)*t/a.long }

// Draw draws a panel as a heat map: frequency to the right, time downwards from when the tone
// stops, louder in stronger colour. A solid line shows when each tone sinks 20 dB below the
// reference, a dashed one when a tone at the reference would without a room. What noise hides is
// veiled.
func Draw(p Panel, s Scale) *svg.Drawing {
	d := &svg.Drawing{
		ID: p.ID, Title: p.Title + ": level over frequency and time", Desc: describe(p), Width: width, Height: height,
	}
	a := newArea(p.Map, s)
	d.Rect("loud-0", svg.RectAt(left, top, right-left, foot-top))
	g := nodes(p, a)
	for k := 1; k < shades; k++ {
		threshold := float64(p.Reference + s.bottom() + Step*model.Level(k))
		lines := g.contours(threshold)
		for i, line := range lines {
			middle := len(line) / 2
			half := thin(line[:middle+1], 0.25)
			lines[i] = append(half[:len(half)-1], thin(line[middle:], 0.25)...)
		}
		if len(lines) > 0 {
			d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: fmt.Sprintf("area loud-%d", k), D: outline(lines, true)})
		}
	}
	veil(d, p, a)
	fallen(d, p, a)
	axes(d, a)
	d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "paneltitle", X: left, Y: 10, Text: p.Title, Left: true})
	return d
}

// nodes returns the levels of a panel at every fourth frequency, which its averages allow.
func nodes(p Panel, a area) *grid {
	var columns []int
	g := &grid{}
	for i := 0; i < len(p.Map.Grid); i += 4 {
		columns, g.x = append(columns, i), append(g.x, a.x(p.Map.Grid[i]))
	}
	if last := len(p.Map.Grid) - 1; columns[len(columns)-1] != last {
		columns, g.x = append(columns, last), append(g.x, a.x(p.Map.Grid[last]))
	}
	for _, t := range p.Map.Times {
		if t <= a.long+1e-9 {
			g.y = append(g.y, a.y(t))
		}
	}
	g.at = func(row, column int) float64 { return float64(p.Map.Levels[row][columns[column]]) }
	return g
}

// hidden is by how much a level must stand above the noise to be shown, dB. Common practice, no
// source: noise then adds 1.8 dB to it at most.
const hidden = 3

// veil covers what noise hides.
func veil(d *svg.Drawing, p Panel, a area) {
	if p.Map.Noise == nil {
		return
	}
	var line []svg.Point
	covered := false
	for i := 0; i < len(p.Map.Grid); i += 4 {
		t := a.long
		for k := len(p.Map.Times) - 1; k >= 0 && p.Map.Levels[k][i] < p.Map.Noise[i]+hidden; k-- {
			t = min(t, p.Map.Times[k])
		}
		covered = covered || t < a.long
		line = append(line, svg.XY(a.x(p.Map.Grid[i]), a.y(t)))
	}
	if !covered {
		return
	}
	line = append(thin(line, 0.3), svg.XY(a.x(p.Map.Grid[len(p.Map.Grid)-1]), foot), svg.XY(left, foot))
	d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: "veil", D: outline([][]svg.Point{line}, true)})
	if lowest := slices.MaxFunc(line[:len(line)-2], func(p, q svg.Point) int { return cmp.Compare(p.Y, q.Y) }); lowest.Y < foot-18 {
		d.Text("veiltext", svg.XY((left+right)/2, foot-8), "hidden by noise")
	}
}

// gone is how far below the reference a tone counts as gone, dB.
const gone = 20

// fallen draws when each tone is gone, and when the tone itself would be.
func fallen(d *svg.Drawing, p Panel, a area) {
	fall := p.Map.Below(p.Reference - gone)
	var lines [][]svg.Point
	var line, limit []svg.Point
	for i := 0; i < len(p.Map.Grid); i += 2 {
		f := p.Map.Grid[i]
		limit = append(limit, svg.XY(a.x(f), a.y(min(a.long, spectraldecay.Fade(f)))))
		hiddenThere := p.Map.Noise != nil && p.Reference-gone < p.Map.Noise[i]+hidden
		if fall[i] > a.long || hiddenThere {
			if len(line) > 1 {
				lines = append(lines, thin(line, 0.3))
			}
			line = nil
			continue
		}
		line = append(line, svg.XY(a.x(f), a.y(fall[i])))
	}
	if len(line) > 1 {
		lines = append(lines, thin(line, 0.3))
	}
	for _, class := range []string{"fallhalo", "fall"} {
		d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: class, D: outline(lines, false)})
	}
	d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: "limit", D: outline([][]svg.Point{thin(limit, 0.3)}, false)})
}

// axes draws frequencies below and times at the left.
func axes(d *svg.Drawing, a area) {
	for _, f := range frequencies {
		if f < a.from*(1-1e-9) || f > a.to*(1+1e-9) {
			continue
		}
		d.Line("tick", svg.XY(a.x(f), foot), svg.XY(a.x(f), foot+4))
		d.Text("dimtext", svg.XY(a.x(f), foot+12), fmt.Sprintf("%g", f))
	}
	step := 0.1
	if a.long > 0.65 {
		step = 0.2
	}
	for t := 0.0; t <= a.long+1e-9; t += step {
		d.Line("tick", svg.XY(left-4, a.y(t)), svg.XY(left, a.y(t)))
		d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: left - 7, Y: svg.Px(a.y(t)), Text: unit.Decimal(1000*t, 0), Right: true})
	}
	d.Shapes = append(d.Shapes,
		svg.Shape{Kind: "text", Class: "axistext", X: (left + right) / 2, Y: height - 8, Text: "frequency, Hz"},
		svg.Shape{Kind: "text", Class: "axistext", X: 7, Y: (top + foot) / 2, Text: "ms after the tone stops", Upright: true})
}
