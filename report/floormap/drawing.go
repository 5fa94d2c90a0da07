package floormap

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// Space about a map for its rulers.
const (
	mapSide   = 58.0
	mapTop    = 34.0
	mapBottom = 44.0
	aboutSize = 300.0 // width of a map about a mark
)

// newFloorDrawing begins a drawing of the whole floor and returns how places map to it.
func newFloorDrawing(m *Report, id, title, desc string) (*svg.Drawing, svg.View) {
	size := m.Project.Room.Size
	v := svg.View{Origin: svg.XY(mapSide, mapTop), Scale: min(svg.RoomWidth/size.Y, svg.PlanHeight/size.X)}
	return &svg.Drawing{
		ID: id, Title: title, Desc: desc, Style: m.Style,
		Width: svg.Px(size.Y*v.Scale + 2*mapSide), Height: svg.Px(size.X*v.Scale + mapTop + mapBottom),
	}, v
}

// chairDrawing draws the spread over the floor.
func chairDrawing(m *Report) (*svg.Drawing, tiles) {
	c, p := &m.Survey.Chair, m.Project
	d, v := newFloorDrawing(m, "floor-chair", "Spread for every place of the chair", chairDesc(m))
	t := newTiles(c.Floor, v)
	best := m.reference()
	tintCells(d, t, &spreadBands, func(n int) model.Level { return c.Spread[n] - best })
	hatchCells(d, "barred", t, func(n int) bool { return c.Open(n) && !c.Allowed(n) })
	d.RoomContents(p, v)
	d.Treatments(p, v)
	drawSurroundings(d, m, v)
	mark := func(at svg.Point, name string) {
		d.Circle("best", at, max(5, 0.55*t.W))
		d.Keep(around8(at))
		d.Label("nowtext", at, name, svg.Around(14, 4))
	}
	if n, ok := c.Best(c.Allowed); ok {
		mark(t.middle(n), "least")
	}
	if to := m.advised(); to > 1 {
		mark(v.At(m.Survey.Cards[to].Layout.Seat), "advised")
	}
	writeValues(d, t, func(n int) string {
		if !c.Open(n) {
			return ""
		}
		return unit.Decimal(float64(c.Spread[n]), 0)
	})
	d.Key = append(spreadBands.key("within 1 dB of the least"), d.Key...)
	d.Key = append(d.Key, svg.KeyEntry{Tint: "barred", Text: "a rule of the room file forbids it"})
	sortLetters(d)
	return d, t
}

// sortLetters puts the letters of a key in order behind its tints.
func sortLetters(d *svg.Drawing) {
	var tints, letters []svg.KeyEntry
	for _, k := range d.Key {
		if k.Tint != "" {
			tints = append(tints, k)
		} else {
			letters = append(letters, k)
		}
	}
	rest := svg.Drawing{Key: letters}
	rest.SortKey()
	d.Key = append(tints, rest.Key...)
}

// around8 is the space of a mark about a point.
func around8(p svg.Point) svg.Rectangle { return svg.RectAt(p.X-8, p.Y-8, 16, 16) }

// reference is the spread that the map of the chair is relative to: the best place's.
func (m *Report) reference() model.Level {
	c := &m.Survey.Chair
	if n, ok := c.Best(c.Allowed); ok {
		return c.Spread[n]
	}
	n, _ := c.Best(c.Open)
	return c.Spread[n]
}

// drawSurroundings draws walls, openings, the speakers, the chair of the layout, and rulers.
func drawSurroundings(d *svg.Drawing, m *Report, v svg.View) {
	p, l := m.Project, m.Survey.Layout
	d.PlanWalls(&p.Room, v)
	d.Openings(p, v)
	d.Cabinets("cabinet", l, &p.Speakers, v)
	for i, at := range []r3.Vec{l.Left, l.Right} {
		d.Keep(around8(v.At(at)))
		d.Circle("mark", v.At(at), 2.6)
		d.Label("speaker", v.At(at), [2]string{"L", "R"}[i], svg.Around(11, 3))
	}
	if m.Survey.HasSeat {
		d.Circle("head", v.At(l.Seat), 0.1*v.Scale)
		d.Circle("mark", v.At(l.Seat), 2.6)
		d.Keep(around8(v.At(l.Seat)))
		d.Label("nowtext", v.At(l.Seat), m.here(), svg.Around(15, 4))
	}
	drawRulers(d, p.Room.Size, v)
}

// drawRulers marks lengths along the left and the back edge of a plan.
func drawRulers(d *svg.Drawing, size r3.Vec, v svg.View) {
	pace := 0.5
	if d.Style == unit.Imperial {
		pace = 2 * 0.3048
	}
	edge := v.Box(model.Block{Max: size})
	for i := 0; float64(i)*pace <= size.X+1e-9; i++ {
		y := edge.Y + float64(i)*pace*v.Scale
		d.Line("dim", svg.XY(edge.X-8, y), svg.XY(edge.X-3, y))
		if i%2 == 0 || d.Style == unit.Imperial {
			d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: svg.Px(edge.X - 11), Y: svg.Px(y), Text: d.Style.Tick(float64(i) * pace), Right: true})
		}
	}
	for i := 0; float64(i)*pace <= size.Y+1e-9; i++ {
		x := edge.X + float64(i)*pace*v.Scale
		d.Line("dim", svg.XY(x, edge.Y+edge.H+3), svg.XY(x, edge.Y+edge.H+8))
		if i%2 == 0 || d.Style == unit.Imperial {
			d.Text("dimtext", svg.XY(x, edge.Y+edge.H+18), d.Style.Tick(float64(i)*pace))
		}
	}
	d.Text("walltext", svg.XY(edge.X+edge.W/2, edge.Y-16), "front wall")
}

// toneDrawing draws the level of both speakers together at frequency i of the map. It
// returns which places have a figure.
func toneDrawing(m *Report, id string, i int) (*svg.Drawing, tiles, []int) {
	l, p := &m.Survey.Levels, m.Project
	d, v := newFloorDrawing(m, id, "Sound level at "+unit.Frequency(l.Grid[i])+", both speakers together", toneDesc(m, i))
	t := newTiles(l.Floor, v)
	level := func(n int) model.Level { return l.At(response.BothTogether, n, i) }
	tintCells(d, t, &levelBands, level)
	for _, b := range p.Room.Blocks {
		d.Rect("block", v.Box(b))
	}
	drawSurroundings(d, m, v)
	d.Shapes = slices.DeleteFunc(d.Shapes, func(s svg.Shape) bool { return s.Class == "letter" }) // explained under the first map
	labels := writeValues(d, t, func(n int) string {
		if math.IsNaN(float64(level(n))) {
			return ""
		}
		return unit.Signed(float64(level(n)))
	})
	d.Key = levelBands.key("")
	return d, t, labels
}

// aboutDrawing draws map i about the marks, enlarged.
func aboutDrawing(m *Report, i int, id string) (*svg.Drawing, tiles) {
	a := &m.Survey.Around[i]
	dx, dy := a.Pitch()
	wide, deep := dy*float64(len(a.Y)), dx*float64(len(a.X))
	scale := aboutSize / wide
	v := svg.View{Origin: svg.XY(mapSide-(a.Y[0]-dy/2)*scale, mapTop-(a.X[0]-dx/2)*scale), Scale: scale}
	d := &svg.Drawing{
		ID: id, Title: "Spread with " + m.offName(i) + " off the mark", Desc: aboutDesc(m, i), Style: m.Style,
		Width: svg.Px(wide*scale + 2*mapSide), Height: svg.Px(deep*scale + mapTop + mapBottom),
	}
	t := newTiles(a.Floor, v)
	tintCells(d, t, &spreadBands, func(n int) model.Level { return a.Spread[n] - m.Survey.Here })
	hatchCells(d, "barred", t, func(n int) bool { return a.Open(n) && !a.Allowed(n) })
	middle := t.middle(a.Len() / 2)
	d.Circle("best", middle, 7)
	d.Keep(around8(middle))
	writeValues(d, t, func(n int) string {
		if !a.Open(n) {
			return ""
		}
		return unit.Decimal(float64(a.Spread[n]), 1)
	})
	drawOffsets(d, t)
	d.Key = spreadBands.key("at most 1 dB more than exactly in place")
	d.Key = append(d.Key, svg.KeyEntry{Tint: "barred", Text: "a rule of the room file forbids it"})
	return d, t
}

// drawOffsets writes along two edges of a map about a mark how far off the mark its cells
// are.
func drawOffsets(d *svg.Drawing, t tiles) {
	width, height := t.W*float64(t.Columns), t.H*float64(t.Rows)
	for _, share := range []float64{-1, -0.5, 0, 0.5, 1} {
		words := d.Style.Plan(math.Abs(share) * floormap.Reach)
		if share == 0 {
			words = "0"
		}
		x, y := t.X+width/2+share*(width-t.W)/2, t.Y+height/2+share*(height-t.H)/2
		d.Text("dimtext", svg.XY(x, t.Y+height+14), words)
		d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: svg.Px(t.X - 6), Y: svg.Px(y), Text: words, Right: true})
	}
	d.Text("walltext", svg.XY(t.X+width/2, t.Y-14), "towards the front wall")
}
