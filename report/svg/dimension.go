package svg

import "evenbass/report/unit"

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
