package svg

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/rivo/uniseg"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Drawing is an SVG picture to scale as a list of shapes, the first undermost.
type Drawing struct {
	ID            string
	Title, Desc   string // for those who cannot see it
	Width, Height Px
	Shapes        []Shape
	Key           []KeyEntry // what the letters in the drawing stand for
	Graph         bool       // curves instead of a room
	Frame         string     // how a script finds its way in the drawing; "" leaves it out

	Style unit.Style
	Taken []Rectangle // where no label may go
}

// KeyEntry explains one letter of a drawing, or one tint by its class.
type KeyEntry struct{ Letter, Tint, Text string }

// Shape is one element of a drawing. Kind is "rect", "circle", "line", "path" or
// "text"; Class is the element's class in the page's style sheet.
type Shape struct {
	Kind, Class    string
	X, Y, X2, Y2   Px // a rect's X2 and Y2 are its width and height, a circle's X2 its radius
	D              string
	Text           string
	Upright, Right bool // text turned by a quarter; text that ends at X
	Left           bool // text that begins at X
}

// Px is a length in the drawing's own unit, printed with one decimal.
type Px float64

// String implements fmt.Stringer.
func (p Px) String() string { return strconv.FormatFloat(unit.Round(float64(p), 1), 'f', -1, 64) }

// Point is a place in a drawing.
type Point struct{ X, Y float64 }

// Rectangle is an upright rectangle in a drawing.
type Rectangle struct{ X, Y, W, H float64 }

// XY returns a point.
func XY(x, y float64) Point { return Point{X: x, Y: y} }

// RectAt returns a rectangle by its upper left corner and its size.
func RectAt(x, y, w, h float64) Rectangle { return Rectangle{X: x, Y: y, W: w, H: h} }

func (a Rectangle) Overlap(b Rectangle) float64 {
	w := min(a.X+a.W, b.X+b.W) - max(a.X, b.X)
	h := min(a.Y+a.H, b.Y+b.H) - max(a.Y, b.Y)
	return max(0, w) * max(0, h)
}

func (a Rectangle) Centre() Point { return XY(a.X+a.W/2, a.Y+a.H/2) }

func (d *Drawing) Rect(class string, r Rectangle) {
	d.Shapes = append(d.Shapes, Shape{Kind: "rect", Class: class, X: Px(r.X), Y: Px(r.Y), X2: Px(r.W), Y2: Px(r.H)})
}

func (d *Drawing) Circle(class string, c Point, r float64) {
	d.Shapes = append(d.Shapes, Shape{Kind: "circle", Class: class, X: Px(c.X), Y: Px(c.Y), X2: Px(r)})
}

func (d *Drawing) Line(class string, a, b Point) {
	d.Shapes = append(d.Shapes, Shape{Kind: "line", Class: class, X: Px(a.X), Y: Px(a.Y), X2: Px(b.X), Y2: Px(b.Y)})
}

// Sizes of an arrow in units of the drawing.
const (
	arrowHead  = 6.0
	arrowGap   = 8.0  // before the mark
	arrowLeast = 16.0 // from place to mark; a shorter one is left out
)

// Arrow draws an arrow that ends just before a mark, unless it would be too short to see.
func (d *Drawing) Arrow(class string, from, mark Point) {
	length := math.Hypot(mark.X-from.X, mark.Y-from.Y)
	if length < arrowLeast {
		return
	}
	dx, dy := (mark.X-from.X)/length*arrowHead, (mark.Y-from.Y)/length*arrowHead
	to := XY(mark.X-dx*arrowGap/arrowHead, mark.Y-dy*arrowGap/arrowHead)
	d.Line(class, from, to)
	d.Path(class, "M", XY(to.X-dx-dy/2, to.Y-dy+dx/2), "L", to, "L", XY(to.X-dx+dy/2, to.Y-dy-dx/2))
}

// Path draws through commands of SVG path syntax and the numbers between them.
func (d *Drawing) Path(class string, parts ...any) {
	var b strings.Builder
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			b.WriteString(v)
		case float64:
			b.WriteString(" " + Px(v).String())
		case Point:
			b.WriteString(" " + Px(v.X).String() + " " + Px(v.Y).String())
		}
	}
	d.Shapes = append(d.Shapes, Shape{Kind: "path", Class: class, D: b.String()})
}

// Text writes words centred on a point.
func (d *Drawing) Text(class string, at Point, words string) {
	d.Shapes = append(d.Shapes, Shape{Kind: "text", Class: class, X: Px(at.X), Y: Px(at.Y), Text: words})
}

// TextWidth estimates how wide words are in the drawings' letters of 11 units.
func TextWidth(words string) float64 { return 6.1 * float64(uniseg.StringWidth(words)) }

// Keep notes that no label may cover a rectangle.
func (d *Drawing) Keep(r Rectangle) { d.Taken = append(d.Taken, r) }

// Label writes a short text near a point: at the first of the offsets where it covers
// nothing that is kept free, or else where it covers least.
func (d *Drawing) Label(class string, about Point, words string, offsets []Point) {
	w, h := TextWidth(words)+2, 11.0
	best, least := Rectangle{}, math.Inf(1)
	for _, o := range offsets {
		r := RectAt(about.X+o.X-w/2, about.Y+o.Y-h/2, w, h)
		covered := 0.0
		for _, k := range d.Taken {
			covered += r.Overlap(k)
		}
		if covered < least {
			best, least = r, covered
		}
	}
	d.Keep(best)
	d.Text(class, best.Centre(), words)
}

// Around returns offsets on rings about a point, nearest first.
func Around(first float64, rings int) []Point {
	var all []Point
	for ring := range rings {
		r := first + 6*float64(ring)
		for _, angle := range []float64{0, 180, 90, 270, 45, 135, 225, 315} {
			s, c := math.Sincos(angle * math.Pi / 180)
			all = append(all, XY(r*c*1.15, r*s))
		}
	}
	return all
}

// Offsets returns offsets about the middle of a rectangle that stay inside it, the
// middle first.
func (a Rectangle) Offsets() []Point {
	all := []Point{XY(0, 0)}
	for _, f := range []float64{0.2, 0.35, 0.45} {
		for _, s := range []Point{XY(1, 0), XY(-1, 0), XY(0, 1), XY(0, -1), XY(1, 1), XY(-1, -1), XY(1, -1), XY(-1, 1)} {
			all = append(all, XY(s.X*f*a.W, s.Y*f*a.H))
		}
	}
	return append(all, Around(14, 3)...)
}

// Letter writes the letter of thing n and adds it to the key. The n of a thing is
// the same in every drawing: blocks are counted first, then what is kept clear,
// then openings, then treatments.
func (d *Drawing) Letter(n int, r Rectangle, meaning string) {
	name := text.LetterName(n)
	d.Key = append(d.Key, KeyEntry{Letter: name, Text: meaning})
	d.Label("letter", r.Centre(), name, r.Offsets())
}

// SortKey puts the key in order: tints, then letters.
func (d *Drawing) SortKey() {
	slices.SortStableFunc(d.Key, func(a, b KeyEntry) int {
		return cmp.Or(cmp.Compare(len(a.Letter), len(b.Letter)), cmp.Compare(a.Letter, b.Letter))
	})
}

// spill says where the words of a dimension go if they do not fit between its ends.
type spill int

const (
	Before spill = iota // beyond the first end
	After               // beyond the second end
	Under               // to the other side of the line
)

// Across draws a horizontal dimension from a to b at the height y.
func (d *Drawing) Across(a, b, y, metres float64, s spill) {
	words := d.Style.Plan(metres)
	d.Line("dim", XY(a, y), XY(b, y))
	for _, x := range []float64{a, b} {
		d.Line("dim", XY(x-3, y+3), XY(x+3, y-3))
	}
	t := Shape{Kind: "text", Class: "dimtext", X: Px((a + b) / 2), Y: Px(y - 6), Text: words}
	if b-a < TextWidth(words)+2 {
		switch s {
		case Before:
			t.X, t.Y, t.Right = Px(a-5), Px(y), true
		case After:
			t.X, t.Y, t.Left = Px(b+5), Px(y), true
		case Under:
			d.Label("dimtext", XY((a+b)/2, y), words, []Point{XY(0, 8), XY(0, -6), XY(0, 20)})
			return
		}
	}
	d.Keep(RectAt(float64(t.X)-TextWidth(words)/2, float64(t.Y)-5.5, TextWidth(words), 11))
	d.Shapes = append(d.Shapes, t)
}

// Upright draws a vertical dimension from a down to b at x; its words run upwards.
func (d *Drawing) Upright(a, b, x, metres float64, s spill) {
	words := d.Style.Plan(metres)
	d.Line("dim", XY(x, a), XY(x, b))
	for _, y := range []float64{a, b} {
		d.Line("dim", XY(x-3, y+3), XY(x+3, y-3))
	}
	t := Shape{Kind: "text", Class: "dimtext", X: Px(x - 6), Y: Px((a + b) / 2), Text: words, Upright: true}
	if b-a < TextWidth(words)+2 {
		switch s {
		case Before:
			t.X, t.Y, t.Left = Px(x), Px(a-5), true
		case After:
			t.X, t.Y, t.Right = Px(x), Px(b+5), true
		case Under:
			t.X = Px(x + 8)
		}
	}
	d.Shapes = append(d.Shapes, t)
}

// ScaleBar draws a bar of a round length.
func (d *Drawing) ScaleBar(at Point, scale float64) {
	length, words := 1.0, "1 m"
	if d.Style == unit.Imperial {
		length, words = 3*0.3048, "3 ft"
	}
	d.Rect("scale", RectAt(at.X, at.Y, length*scale/2, 4))
	d.Rect("scale open", RectAt(at.X+length*scale/2, at.Y, length*scale/2, 4))
	d.Shapes = append(d.Shapes, Shape{Kind: "text", Class: "dimtext", X: Px(at.X + length*scale + 6), Y: Px(at.Y + 2), Text: words, Left: true})
}

// View maps room coordinates to a drawing.
type View struct {
	Origin Point   // where the room's origin is
	Scale  float64 // drawing units per metre
	Side   bool    // x runs to the right and z up; otherwise y to the right and x down
}

// String writes the view for a script: what is seen, where the room's origin is, and the
// drawing's units per metre, "plan 68 62 104.9".
func (v View) String() string {
	name := "plan"
	if v.Side {
		name = "side"
	}
	return fmt.Sprintf("%s %g %g %g", name, unit.Round(v.Origin.X, 3), unit.Round(v.Origin.Y, 3), unit.Round(v.Scale, 4))
}

func (v View) At(p r3.Vec) Point {
	if v.Side {
		return XY(v.Origin.X+p.X*v.Scale, v.Origin.Y-p.Z*v.Scale)
	}
	return XY(v.Origin.X+p.Y*v.Scale, v.Origin.Y+p.X*v.Scale)
}

// Box returns where a block shows.
func (v View) Box(k model.Block) Rectangle {
	a, b := v.At(k.Min), v.At(k.Max)
	return RectAt(min(a.X, b.X), min(a.Y, b.Y), math.Abs(a.X-b.X), math.Abs(a.Y-b.Y))
}
