package svg

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/report/unit"
)

// Graph draws responses over frequency: level up, frequency to the right on a logarithmic
// axis. The figures of the axes travel with the drawing, so that a script of the page can
// draw into it.
type Graph struct {
	ID          string
	Title, Desc string // for those who cannot see it
	Form        Form
	Scale       Scale      // the zero value is the scale of levels
	Goal        model.Goal // the shaded band; zero shades nothing
	Traces      []Trace    // the first undermost
	Notes       []Note
}

// Form is where a graph is to be read, which settles its size and how much it says.
type Form int

// The forms. Letters are as large in all of them.
const (
	Wide   Form = iota // across a page or a sheet
	Narrow             // across a phone
	Small              // one of several side by side
)

// Scale is what the axes of a graph cover.
type Scale struct {
	Low, High, Step float64 // upwards; Step is the distance of the lines
	Unit            string  // of the upright axis
	Places          int     // decimals of its figures
	Height          float64 // of the whole drawing; 0 is that of the form
}

// Ends of the axis of levels, dB re the curve's mean: the same on every graph of every
// report, so that two reports can be compared side by side.
const (
	LevelTop    = 20
	LevelBottom = -30
)

// Limits of every frequency axis, Hz.
const (
	AxisFrom = 20
	AxisTo   = 300
)

// Trace is a curve of a graph.
type Trace struct {
	Class  string // "result" or "now", and what else the style sheet knows
	Name   string // written at its bracket; "" writes nothing
	X, Y   []float64
	Range  Range      // shaded
	Extent [2]float64 // the lowest and highest level in the band, drawn as a bracket; zeros draw none
	Spread string     // written under the name
}

// Range is what a curve may be between, over frequencies of its own in Hz. The zero value is
// not known.
type Range struct{ X, Low, High []float64 }

// Note is words at a point of a curve. A graph too small for them shows the letter.
type Note struct {
	X, Y   float64
	Letter string
	Lines  []string
}

// frame is the part of a graph between its axes.
type frame struct {
	left, top, right, bottom float64
	low, high                float64
}

// At returns where a frequency in Hz and a value are drawn; what is off the scale is at its
// edge.
func (f frame) At(hz, value float64) Point {
	x := math.Log(min(max(hz, AxisFrom), AxisTo)/AxisFrom) / math.Log(AxisTo/AxisFrom)
	y := (min(max(value, f.low), f.high) - f.low) / (f.high - f.low)
	return XY(f.left+x*(f.right-f.left), f.bottom-y*(f.bottom-f.top))
}

// sizes are the width and height of a form and its margins: left, top, right, bottom.
var sizes = [...]struct{ w, h, left, top, right, bottom float64 }{
	Wide:   {w: 680, h: 318, left: 40, top: 12, right: 112, bottom: 34},
	Narrow: {w: 310, h: 280, left: 34, top: 24, right: 10, bottom: 34},
	Small:  {w: 310, h: 190, left: 34, top: 24, right: 10, bottom: 34},
}

// Drawing returns the graph as a drawing.
func (g *Graph) Drawing() *Drawing {
	size, s := sizes[g.Form], g.Scale
	if s == (Scale{}) {
		s = Scale{Low: LevelBottom, High: LevelTop, Step: 5, Unit: "dB"}
		if g.Form == Small {
			s.Step = 10
		}
	}
	if s.Height == 0 {
		s.Height = size.h
	}
	f := frame{left: size.left, top: size.top, right: size.w - size.right, bottom: s.Height - size.bottom, low: s.Low, high: s.High}
	d := &Drawing{ID: g.ID, Title: g.Title, Desc: g.Desc, Width: Px(size.w), Height: Px(s.Height), Graph: true, Frame: f.String()}
	g.axes(d, f, s)
	for i := range g.Traces {
		g.shade(d, f, &g.Traces[i])
	}
	for i := range g.Traces {
		t := &g.Traces[i]
		d.curve("curve "+t.Class, f, t.X, t.Y)
	}
	if g.Form == Wide {
		g.brackets(d, f)
	} else {
		g.key(d, f)
	}
	g.notes(d, f)
	return d
}

// String writes the frame for a script: its edges in the drawing's units, then what they
// stand for, "40 12 568 284 20 300 -30 20".
func (f frame) String() string {
	return fmt.Sprintf("%g %g %g %g %d %d %g %g", f.left, f.top, f.right, f.bottom, AxisFrom, AxisTo, f.low, f.high)
}

// axes draws the goal's band, the lines and the figures.
func (g *Graph) axes(d *Drawing, f frame, s Scale) {
	if g.Goal.To > 0 {
		a, b := f.At(g.Goal.From, s.High), f.At(g.Goal.To, s.Low)
		d.Rect("goalband", RectAt(a.X, a.Y, b.X-a.X, b.Y-a.Y))
	}
	for v := s.Low; v <= s.High+1e-9; v += s.Step {
		p := f.At(AxisFrom, v)
		class := "grid"
		if v == 0 {
			class = "grid zero"
		}
		d.Line(class, p, XY(f.right, p.Y))
		d.Shapes = append(d.Shapes, Shape{Kind: "text", Class: "axis", X: Px(f.left - 5), Y: Px(p.Y), Text: unit.Decimal(v, s.Places), Right: true})
	}
	marks := []float64{20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 300} // third octaves of ISO 266
	if g.Form != Wide {
		marks = []float64{20, 31.5, 50, 80, 125, 200, 300}
	}
	for _, hz := range marks {
		p := f.At(hz, s.Low)
		d.Line("grid", p, XY(p.X, p.Y+4))
		d.Text("axis", XY(p.X, p.Y+12), fmt.Sprintf("%g", hz))
	}
	d.Shapes = append(d.Shapes,
		Shape{Kind: "text", Class: "axis", X: Px(f.right), Y: Px(f.bottom + 26), Text: "frequency, Hz", Right: true},
		Shape{Kind: "text", Class: "axis", X: 2, Y: Px(f.bottom + 26), Text: s.Unit, Left: true})
	if g.Goal.To > 0 && g.Form == Wide {
		p := f.At(math.Sqrt(g.Goal.From*g.Goal.To), s.Low)
		d.Text("axis", XY(p.X, f.bottom+26), fmt.Sprintf("goal: %g–%g Hz", g.Goal.From, g.Goal.To))
	}
}

// shade tints the range of a curve.
func (g *Graph) shade(d *Drawing, f frame, t *Trace) {
	r := &t.Range
	if len(r.X) == 0 {
		return
	}
	var parts []any
	for i, x := range r.X {
		parts = append(parts, step(i), f.At(x, r.High[i]))
	}
	for i := len(r.X) - 1; i >= 0; i-- {
		parts = append(parts, "L", f.At(r.X[i], r.Low[i]))
	}
	d.Path("band "+t.Class, append(parts, "Z")...)
}

// step is the command of the i-th point of a line.
func step(i int) string { return [2]string{"M", "L"}[min(i, 1)] }

// curve draws a line through points within the frequency axis. A value that is no number
// breaks the line.
func (d *Drawing) curve(class string, f frame, x, y []float64) {
	var parts []any
	pen, last := 0, Point{}
	for i := range x {
		if math.IsNaN(y[i]) || math.IsInf(y[i], 0) || x[i] < AxisFrom || x[i] > AxisTo*1.005 {
			pen = 0
			continue
		}
		p := f.At(x[i], y[i])
		parts = append(parts, step(pen), p)
		d.keepAlong(last, p, pen)
		last = p
		pen++
	}
	if parts != nil {
		d.Path(class, parts...)
	}
}

// keepAlong keeps the way from one point of a curve to the next free of labels; a curve's first
// point has none before it.
func (d *Drawing) keepAlong(a, b Point, pen int) {
	if pen == 0 {
		a = b
	}
	steps := math.Ceil(math.Abs(b.Y-a.Y)/6) + 1
	for i := 1.0; i <= steps; i++ {
		d.Keep(RectAt(a.X+(b.X-a.X)*i/steps-2, a.Y+(b.Y-a.Y)*i/steps-4, 4, 8))
	}
}

// brackets draws how far each curve reaches up and down, with its name, at the right edge:
// the spread is half a bracket.
func (g *Graph) brackets(d *Drawing, f frame) {
	x, last := f.right+12, math.Inf(-1)
	named := f.right + max(34, 7+11*float64(len(g.Traces))) // beyond the last bracket
	for i := len(g.Traces) - 1; i >= 0; i-- {
		t := &g.Traces[i]
		if t.Extent == ([2]float64{}) {
			continue
		}
		low, high := f.At(AxisTo, t.Extent[0]), f.At(AxisTo, t.Extent[1])
		class := "bracket " + t.Class
		d.Path(class, "M", XY(x-4, high.Y), "L", XY(x, high.Y), "L", XY(x, low.Y), "L", XY(x-4, low.Y))
		y := max((low.Y+high.Y)/2, last+30)
		last = y
		for n, words := range []string{t.Name, t.Spread} {
			d.Shapes = append(d.Shapes, Shape{Kind: "text", Class: "name " + t.Class, X: Px(named), Y: Px(y - 7 + 14*float64(n)), Text: words, Left: true})
		}
		x += 11
	}
}

// key writes the curves' names with their lines above the frame, and their spreads if there is
// room for all.
func (g *Graph) key(d *Drawing, f frame) {
	x, whole := f.left, f.left
	for i := range g.Traces {
		whole += 32 + TextWidth(g.Traces[i].Name+" "+g.Traces[i].Spread)
	}
	for i := len(g.Traces) - 1; i >= 0; i-- {
		t := &g.Traces[i]
		if t.Name == "" {
			continue
		}
		words := t.Name
		if whole <= float64(d.Width) {
			words += " " + t.Spread
		}
		d.Line("curve "+t.Class, XY(x, 10), XY(x+18, 10))
		d.Shapes = append(d.Shapes, Shape{Kind: "text", Class: "name " + t.Class, X: Px(x + 22), Y: 10, Text: words, Left: true})
		x += 32 + TextWidth(words)
	}
}
