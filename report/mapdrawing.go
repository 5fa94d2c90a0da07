package report

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// Space about a map for its rulers.
const (
	mapSide   = 58.0
	mapTop    = 34.0
	mapBottom = 44.0
	aboutSize = 300.0 // width of a map about a mark
)

// newFloorDrawing begins a drawing of the whole floor and returns how places map to it.
func newFloorDrawing(m *Maps, id, title, desc string) (*drawing, view) {
	size := m.Project.Room.Size
	v := view{origin: xy(mapSide, mapTop), scale: min(roomWidth/size.Y, planHeight/size.X)}
	return &drawing{
		ID: id, Title: title, Desc: desc, style: m.Style,
		Width: px(size.Y*v.scale + 2*mapSide), Height: px(size.X*v.scale + mapTop + mapBottom),
	}, v
}

// chairDrawing draws the spread over the floor.
func chairDrawing(m *Maps) (*drawing, tiles) {
	c, p := &m.Survey.Chair, m.Project
	d, v := newFloorDrawing(m, "floor-chair", "Spread for every place of the chair", chairDesc(m))
	t := newTiles(c.Floor, v)
	best := m.reference()
	tintCells(d, t, &spreadBands, func(n int) model.Level { return c.Spread[n] - best })
	hatchCells(d, "barred", t, func(n int) bool { return c.Open(n) && !c.Allowed(n) })
	d.things(p, v)
	d.treatments(p, v)
	drawSurroundings(d, m, v)
	if n, ok := c.Best(c.Allowed); ok {
		d.circle("best", t.middle(n), max(5, 0.55*t.W))
		d.keep(around8(t.middle(n)))
		d.label("nowtext", t.middle(n), "best", around(14, 4))
	}
	writeValues(d, t, func(n int) string {
		if !c.Open(n) {
			return ""
		}
		return decimal(float64(c.Spread[n]), 0)
	})
	d.Key = append(spreadBands.key("within 1 dB of the best allowed place"), d.Key...)
	d.Key = append(d.Key, keyEntry{Tint: "barred", Text: "a rule of the room file forbids it"})
	sortLetters(d)
	return d, t
}

// sortLetters puts the letters of a key in order behind its tints.
func sortLetters(d *drawing) {
	var tints, letters []keyEntry
	for _, k := range d.Key {
		if k.Tint != "" {
			tints = append(tints, k)
		} else {
			letters = append(letters, k)
		}
	}
	rest := drawing{Key: letters}
	rest.sortKey()
	d.Key = append(tints, rest.Key...)
}

// around8 is the space of a mark about a point.
func around8(p point) rectangle { return rectAt(p.x-8, p.y-8, 16, 16) }

// reference is the spread that the map of the chair is held against: the best place's.
func (m *Maps) reference() model.Level {
	c := &m.Survey.Chair
	if n, ok := c.Best(c.Allowed); ok {
		return c.Spread[n]
	}
	n, _ := c.Best(c.Open)
	return c.Spread[n]
}

// drawSurroundings draws walls, openings, the speakers, the chair of the layout, and rulers.
func drawSurroundings(d *drawing, m *Maps, v view) {
	p, l := m.Project, m.Survey.Layout
	d.planWalls(&p.Room, v)
	d.openings(p, v)
	d.cabinets("cabinet", l, &p.Speakers, v)
	for i, at := range []r3.Vec{l.Left, l.Right} {
		d.keep(around8(v.at(at)))
		d.circle("mark", v.at(at), 2.6)
		d.label("speaker", v.at(at), [2]string{"L", "R"}[i], around(11, 3))
	}
	if m.Survey.Seated {
		d.circle("head", v.at(l.Seat), 0.1*v.scale)
		d.circle("mark", v.at(l.Seat), 2.6)
		d.keep(around8(v.at(l.Seat)))
		d.label("nowtext", v.at(l.Seat), m.here(), around(15, 4))
	}
	drawRulers(d, p.Room.Size, v)
}

// drawRulers marks lengths along the left and the back edge of a plan.
func drawRulers(d *drawing, size r3.Vec, v view) {
	pace := 0.5
	if d.style == Imperial {
		pace = 2 * 0.3048
	}
	edge := v.box(model.Block{Max: size})
	for i := 0; float64(i)*pace <= size.X+1e-9; i++ {
		y := edge.y + float64(i)*pace*v.scale
		d.line("dim", xy(edge.x-8, y), xy(edge.x-3, y))
		if i%2 == 0 || d.style == Imperial {
			d.Shapes = append(d.Shapes, shape{Kind: "text", Class: "dimtext", X: px(edge.x - 11), Y: px(y), Text: d.style.tick(float64(i) * pace), Right: true})
		}
	}
	for i := 0; float64(i)*pace <= size.Y+1e-9; i++ {
		x := edge.x + float64(i)*pace*v.scale
		d.line("dim", xy(x, edge.y+edge.h+3), xy(x, edge.y+edge.h+8))
		if i%2 == 0 || d.style == Imperial {
			d.text("dimtext", xy(x, edge.y+edge.h+18), d.style.tick(float64(i)*pace))
		}
	}
	d.text("walltext", xy(edge.x+edge.w/2, edge.y-16), "front wall")
}

// toneDrawing draws the level of both speakers together at frequency i of the map. It
// returns which places have a figure.
func toneDrawing(m *Maps, id string, i int) (*drawing, tiles, []int) {
	l, p := &m.Survey.Levels, m.Project
	d, v := newFloorDrawing(m, id, "Sound level at "+Frequency(l.Grid[i])+", both speakers together", toneDesc(m, i))
	t := newTiles(l.Floor, v)
	level := func(n int) model.Level { return l.At(response.BothTogether, n, i) }
	tintCells(d, t, &levelBands, level)
	for _, b := range p.Room.Blocks {
		d.rect("block", v.box(b))
	}
	drawSurroundings(d, m, v)
	d.Shapes = slices.DeleteFunc(d.Shapes, func(s shape) bool { return s.Class == "letter" }) // explained under the first map
	labels := writeValues(d, t, func(n int) string {
		if math.IsNaN(float64(level(n))) {
			return ""
		}
		return signed(float64(level(n)))
	})
	d.Key = levelBands.key("")
	return d, t, labels
}

// aboutDrawing draws map i about the marks, enlarged.
func aboutDrawing(m *Maps, i int, id string) (*drawing, tiles) {
	a := &m.Survey.About[i]
	dx, dy := a.Pace()
	wide, deep := dy*float64(len(a.Y)), dx*float64(len(a.X))
	scale := aboutSize / wide
	v := view{origin: xy(mapSide-(a.Y[0]-dy/2)*scale, mapTop-(a.X[0]-dx/2)*scale), scale: scale}
	d := &drawing{
		ID: id, Title: "Spread with " + m.offName(i) + " off the mark", Desc: aboutDesc(m, i), style: m.Style,
		Width: px(wide*scale + 2*mapSide), Height: px(deep*scale + mapTop + mapBottom),
	}
	t := newTiles(a.Floor, v)
	tintCells(d, t, &spreadBands, func(n int) model.Level { return a.Spread[n] - m.Survey.Here })
	hatchCells(d, "barred", t, func(n int) bool { return a.Open(n) && !a.Allowed(n) })
	middle := t.middle(a.Len() / 2)
	d.circle("best", middle, 7)
	d.keep(around8(middle))
	writeValues(d, t, func(n int) string {
		if !a.Open(n) {
			return ""
		}
		return decimal(float64(a.Spread[n]), 1)
	})
	drawOffsets(d, t)
	d.Key = spreadBands.key("at most 1 dB more than exactly in place")
	d.Key = append(d.Key, keyEntry{Tint: "barred", Text: "a rule of the room file forbids it"})
	return d, t
}

// drawOffsets marks along two edges of a map about a mark how far off its cells are.
func drawOffsets(d *drawing, t tiles) {
	width, height := t.W*float64(t.Columns), t.H*float64(t.Rows)
	for _, share := range []float64{-1, -0.5, 0, 0.5, 1} {
		words := d.style.Plan(math.Abs(share) * optimize.SurveyReach)
		if share == 0 {
			words = "0"
		}
		x, y := t.X+width/2+share*(width-t.W)/2, t.Y+height/2+share*(height-t.H)/2
		d.text("dimtext", xy(x, t.Y+height+14), words)
		d.Shapes = append(d.Shapes, shape{Kind: "text", Class: "dimtext", X: px(t.X - 6), Y: px(y), Text: words, Right: true})
	}
	d.text("walltext", xy(t.X+width/2, t.Y-14), "towards the front wall")
}
