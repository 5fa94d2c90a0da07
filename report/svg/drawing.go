package svg

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/rivo/uniseg"

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
