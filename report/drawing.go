package report

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// drawing is an SVG picture to scale as a list of shapes, the first undermost.
type drawing struct {
	ID            string
	Title, Desc   string // for those who cannot see it
	Width, Height px
	Shapes        []shape
	Key           []keyEntry // what the letters in the drawing stand for

	style Style
	taken []rectangle // where no label may go
}

// keyEntry explains one letter of a drawing, or one tint by its class.
type keyEntry struct{ Letter, Tint, Text string }

// shape is one element of a drawing. Kind is "rect", "circle", "line", "path" or
// "text"; Class is the element's class in the page's style sheet.
type shape struct {
	Kind, Class    string
	X, Y, X2, Y2   px // a rect's X2 and Y2 are its width and height, a circle's X2 its radius
	D              string
	Text           string
	Upright, Right bool // text turned by a quarter; text that ends at X
	Left           bool // text that begins at X
}

// px is a length in the drawing's own unit, printed with one decimal.
type px float64

// String implements fmt.Stringer.
func (p px) String() string { return strconv.FormatFloat(round(float64(p), 1), 'f', -1, 64) }

// point is a place in a drawing.
type point struct{ x, y float64 }

// rectangle is an upright rectangle in a drawing.
type rectangle struct{ x, y, w, h float64 }

// xy returns a point.
func xy(x, y float64) point { return point{x: x, y: y} }

// rectAt returns a rectangle by its upper left corner and its size.
func rectAt(x, y, w, h float64) rectangle { return rectangle{x: x, y: y, w: w, h: h} }

func (a rectangle) overlap(b rectangle) float64 {
	w := min(a.x+a.w, b.x+b.w) - max(a.x, b.x)
	h := min(a.y+a.h, b.y+b.h) - max(a.y, b.y)
	return max(0, w) * max(0, h)
}

func (a rectangle) centre() point { return xy(a.x+a.w/2, a.y+a.h/2) }

func (d *drawing) rect(class string, r rectangle) {
	d.Shapes = append(d.Shapes, shape{Kind: "rect", Class: class, X: px(r.x), Y: px(r.y), X2: px(r.w), Y2: px(r.h)})
}

func (d *drawing) circle(class string, c point, r float64) {
	d.Shapes = append(d.Shapes, shape{Kind: "circle", Class: class, X: px(c.x), Y: px(c.y), X2: px(r)})
}

func (d *drawing) line(class string, a, b point) {
	d.Shapes = append(d.Shapes, shape{Kind: "line", Class: class, X: px(a.x), Y: px(a.y), X2: px(b.x), Y2: px(b.y)})
}

// path draws through commands of SVG path syntax and the numbers between them.
func (d *drawing) path(class string, parts ...any) {
	var b strings.Builder
	for _, part := range parts {
		switch v := part.(type) {
		case string:
			b.WriteString(v)
		case float64:
			b.WriteString(" " + px(v).String())
		case point:
			b.WriteString(" " + px(v.x).String() + " " + px(v.y).String())
		}
	}
	d.Shapes = append(d.Shapes, shape{Kind: "path", Class: class, D: b.String()})
}

// text writes words centred on a point.
func (d *drawing) text(class string, at point, words string) {
	d.Shapes = append(d.Shapes, shape{Kind: "text", Class: class, X: px(at.x), Y: px(at.y), Text: words})
}

// textWidth estimates how wide words are in the drawings' letters of 11 units.
func textWidth(words string) float64 { return 6.1 * float64(len([]rune(words))) }

// keep notes that no label may cover a rectangle.
func (d *drawing) keep(r rectangle) { d.taken = append(d.taken, r) }

// label writes a short text about a point, at the first of the offered offsets
// where it covers nothing kept, or else where it covers least.
func (d *drawing) label(class string, about point, words string, offsets []point) {
	w, h := textWidth(words)+2, 11.0
	best, least := rectangle{}, math.Inf(1)
	for _, o := range offsets {
		r := rectAt(about.x+o.x-w/2, about.y+o.y-h/2, w, h)
		covered := 0.0
		for _, k := range d.taken {
			covered += r.overlap(k)
		}
		if covered < least {
			best, least = r, covered
		}
	}
	d.keep(best)
	d.text(class, best.centre(), words)
}

// around returns offsets on rings about a point, nearest first.
func around(first float64, rings int) []point {
	var all []point
	for ring := range rings {
		r := first + 6*float64(ring)
		for _, angle := range []float64{0, 180, 90, 270, 45, 135, 225, 315} {
			s, c := math.Sincos(angle * math.Pi / 180)
			all = append(all, xy(r*c*1.15, r*s))
		}
	}
	return all
}

// spots returns offsets about the middle of a rectangle that stay inside it, the
// middle first.
func (a rectangle) spots() []point {
	all := []point{xy(0, 0)}
	for _, f := range []float64{0.2, 0.35, 0.45} {
		for _, s := range []point{xy(1, 0), xy(-1, 0), xy(0, 1), xy(0, -1), xy(1, 1), xy(-1, -1), xy(1, -1), xy(-1, 1)} {
			all = append(all, xy(s.x*f*a.w, s.y*f*a.h))
		}
	}
	return append(all, around(14, 3)...)
}

// letter writes the letter of thing n and adds it to the key. The n of a thing is
// the same in every drawing: blocks are counted first, then what is kept clear,
// then openings, then treatments.
func (d *drawing) letter(n int, r rectangle, meaning string) {
	name := letterName(n)
	d.Key = append(d.Key, keyEntry{Letter: name, Text: meaning})
	d.label("letter", r.centre(), name, r.spots())
}

// sortKey puts the key in order: tints, then letters.
func (d *drawing) sortKey() {
	slices.SortStableFunc(d.Key, func(a, b keyEntry) int {
		return cmp.Or(cmp.Compare(len(a.Letter), len(b.Letter)), cmp.Compare(a.Letter, b.Letter))
	})
}

// spill says where the words of a dimension go that do not fit between its ends.
type spill int

const (
	before spill = iota // beyond the first end
	after               // beyond the second end
	under               // to the other side of the line
)

// across draws a horizontal dimension from a to b at the height y.
func (d *drawing) across(a, b, y, metres float64, s spill) {
	words := d.style.Plan(metres)
	d.line("dim", xy(a, y), xy(b, y))
	for _, x := range []float64{a, b} {
		d.line("dim", xy(x-3, y+3), xy(x+3, y-3))
	}
	t := shape{Kind: "text", Class: "dimtext", X: px((a + b) / 2), Y: px(y - 6), Text: words}
	if b-a < textWidth(words)+2 {
		switch s {
		case before:
			t.X, t.Y, t.Right = px(a-5), px(y), true
		case after:
			t.X, t.Y, t.Left = px(b+5), px(y), true
		case under:
			t.Y = px(y + 8)
		}
	}
	d.Shapes = append(d.Shapes, t)
}

// upright draws a vertical dimension from a down to b at x; its words run upwards.
func (d *drawing) upright(a, b, x, metres float64, s spill) {
	words := d.style.Plan(metres)
	d.line("dim", xy(x, a), xy(x, b))
	for _, y := range []float64{a, b} {
		d.line("dim", xy(x-3, y+3), xy(x+3, y-3))
	}
	t := shape{Kind: "text", Class: "dimtext", X: px(x - 6), Y: px((a + b) / 2), Text: words, Upright: true}
	if b-a < textWidth(words)+2 {
		switch s {
		case before:
			t.X, t.Y, t.Left = px(x), px(a-5), true
		case after:
			t.X, t.Y, t.Right = px(x), px(b+5), true
		case under:
			t.X = px(x + 8)
		}
	}
	d.Shapes = append(d.Shapes, t)
}

// scaleBar draws a bar of a round length.
func (d *drawing) scaleBar(at point, scale float64) {
	length, words := 1.0, "1 m"
	if d.style == Imperial {
		length, words = 3*0.3048, "3 ft"
	}
	d.rect("scale", rectAt(at.x, at.y, length*scale/2, 4))
	d.rect("scale open", rectAt(at.x+length*scale/2, at.y, length*scale/2, 4))
	d.Shapes = append(d.Shapes, shape{Kind: "text", Class: "dimtext", X: px(at.x + length*scale + 6), Y: px(at.y + 2), Text: words, Left: true})
}

// view maps room coordinates to a drawing.
type view struct {
	origin point   // where the room's origin is
	scale  float64 // drawing units per metre
	side   bool    // x runs to the right and z up; otherwise y to the right and x down
}

func (v view) at(p r3.Vec) point {
	if v.side {
		return xy(v.origin.x+p.X*v.scale, v.origin.y-p.Z*v.scale)
	}
	return xy(v.origin.x+p.Y*v.scale, v.origin.y+p.X*v.scale)
}

// box returns where a block shows.
func (v view) box(k model.Block) rectangle {
	a, b := v.at(k.Min), v.at(k.Max)
	return rectAt(min(a.x, b.x), min(a.y, b.y), math.Abs(a.x-b.x), math.Abs(a.y-b.y))
}
