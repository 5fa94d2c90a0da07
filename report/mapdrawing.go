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

// tiles is a lattice of places as it is drawn: cell by cell, in the drawing's units.
type tiles struct {
	X       float64 `json:"x"` // left edge
	Y       float64 `json:"y"` // upper edge
	W       float64 `json:"w"` // of a cell
	H       float64 `json:"h"`
	Rows    int     `json:"rows"`
	Columns int     `json:"columns"`
}

// newTiles returns where the cells of a lattice show on a plan.
func newTiles(f optimize.Floor, v view) tiles {
	dx, dy := f.Pace()
	corner := v.at(r3.Vec{X: f.X[0] - dx/2, Y: f.Y[0] - dy/2})
	return tiles{
		X: round(corner.x, 2), Y: round(corner.y, 2), W: round(dy*v.scale, 4), H: round(dx*v.scale, 4),
		Rows: len(f.X), Columns: len(f.Y),
	}
}

// middle returns the centre of the cell of place n.
func (t tiles) middle(n int) point {
	return point{t.X + (float64(n%t.Columns)+0.5)*t.W, t.Y + (float64(n/t.Columns)+0.5)*t.H}
}

// fill draws the cells that are asked for as one path of rectangles: each begins with a
// run of cells and goes down as far as all below are asked for too.
func (d *drawing) fill(class string, t tiles, has func(n int) bool) {
	var parts []any
	done := make([]bool, t.Rows*t.Columns)
	wanted := func(row, from, to int) bool {
		for n := row*t.Columns + from; n < row*t.Columns+to; n++ {
			if done[n] || !has(n) {
				return false
			}
		}
		return true
	}
	for row := range t.Rows {
		for column := 0; column < t.Columns; column++ {
			end, below := column, row
			for end < t.Columns && wanted(row, end, end+1) {
				end++
			}
			if end == column {
				continue
			}
			for below < t.Rows && wanted(below, column, end) {
				for n := below*t.Columns + column; n < below*t.Columns+end; n++ {
					done[n] = true
				}
				below++
			}
			left, right := t.X+float64(column)*t.W, t.X+float64(end)*t.W
			top, bottom := t.Y+float64(row)*t.H, t.Y+float64(below)*t.H
			parts = append(parts, "M", point{left, top}, "H", right, "V", bottom, "H", left, "Z")
			column = end - 1
		}
	}
	d.path(class, parts...)
}

// hatch draws lines that rise to the right over the cells that are asked for, as one
// path; a line runs on as long as the cells do.
func (d *drawing) hatch(class string, t tiles, has func(n int) bool) {
	var parts []any
	for k := range t.Rows + t.Columns - 1 {
		row := min(k, t.Rows-1)
		for row >= 0 && k-row < t.Columns {
			end := row
			for end >= 0 && k-end < t.Columns && has(end*t.Columns+k-end) {
				end--
			}
			if end == row {
				row--
				continue
			}
			from := point{t.X + float64(k-row)*t.W, t.Y + float64(row+1)*t.H}
			to := point{t.X + float64(k-end)*t.W, t.Y + float64(end+1)*t.H}
			parts = append(parts, "M", from, "L", to)
			row = end
		}
	}
	d.path(class, parts...)
}

// tint draws every band of values as one path, the lowest first, and no value as
// nothing. Bands without a cell are there too, for the page's script to fill.
func (d *drawing) tint(t tiles, b *bands, value func(n int) model.Level) {
	for i, name := range b.Names {
		d.fill("cell "+name, t, func(n int) bool {
			v := value(n)
			return !math.IsNaN(float64(v)) && b.of(v) == i
		})
	}
}

// values writes figures into some cells, evenly strewn, off the edges and where nothing is
// kept free. It
// returns the places that have got one, in the order of the drawing.
func (d *drawing) values(t tiles, text func(n int) string) []int {
	const wide, high = 34.0, 26.0
	down, across := max(1, int(math.Ceil(high/t.H))), max(1, int(math.Ceil(wide/t.W)))
	var written []int
	for row := t.Rows / 2 % down; row < t.Rows; row += down {
		for column := t.Columns / 2 % across; column < t.Columns; column += across {
			n := row*t.Columns + column
			words, at := text(n), t.middle(n)
			space := rectangle{at.x - 10, at.y - 6, 20, 12}
			free := words != "" && space.x > t.X && space.x+space.w < t.X+t.W*float64(t.Columns)
			for _, k := range d.taken {
				free = free && space.overlap(k) == 0
			}
			if free {
				d.text("mapvalue", at, words)
				written = append(written, n)
			}
		}
	}
	return written
}

// newFloorDrawing begins a drawing of the whole floor and returns how places map to it.
func newFloorDrawing(m *Maps, id, title, desc string) (*drawing, view) {
	size := m.Project.Room.Size
	v := view{origin: point{mapSide, mapTop}, scale: min(roomWidth/size.Y, planHeight/size.X)}
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
	d.tint(t, &spreadBands, func(n int) model.Level { return c.Spread[n] - best })
	d.hatch("barred", t, func(n int) bool { return c.Open(n) && !c.Allowed(n) })
	d.things(p, v)
	d.treatments(p, v)
	d.frame(m, v)
	if n, ok := c.Best(c.Allowed); ok {
		d.circle("best", t.middle(n), max(5, 0.55*t.W))
		d.keep(around8(t.middle(n)))
		d.label("nowtext", t.middle(n), "best", around(14, 4))
	}
	d.values(t, func(n int) string {
		if !c.Open(n) {
			return ""
		}
		return decimal(float64(c.Spread[n]), 0)
	})
	d.Key = append(spreadBands.key("within 1 dB of the best place allowed"), d.Key...)
	d.Key = append(d.Key, keyEntry{Tint: "barred", Text: "a rule of the room file is against it"})
	d.sortLetters()
	return d, t
}

// sortLetters puts the letters of a key in order behind its tints.
func (d *drawing) sortLetters() {
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
func around8(p point) rectangle { return rectangle{p.x - 8, p.y - 8, 16, 16} }

// reference is the spread that the map of the chair is held against: the best place's.
func (m *Maps) reference() model.Level {
	c := &m.Survey.Chair
	if n, ok := c.Best(c.Allowed); ok {
		return c.Spread[n]
	}
	n, _ := c.Best(c.Open)
	return c.Spread[n]
}

// frame draws walls, openings, the speakers, the chair of the layout, and rulers.
func (d *drawing) frame(m *Maps, v view) {
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
	d.rulers(p.Room.Size, v)
}

// rulers marks lengths along the left and the back edge of a plan.
func (d *drawing) rulers(size r3.Vec, v view) {
	pace := 0.5
	if d.style == Imperial {
		pace = 2 * 0.3048
	}
	edge := v.box(model.Block{Max: size})
	for i := 0; float64(i)*pace <= size.X+1e-9; i++ {
		y := edge.y + float64(i)*pace*v.scale
		d.line("dim", point{edge.x - 8, y}, point{edge.x - 3, y})
		if i%2 == 0 || d.style == Imperial {
			d.Shapes = append(d.Shapes, shape{Kind: "text", Class: "dimtext", X: px(edge.x - 11), Y: px(y), Text: d.style.tick(float64(i) * pace), Right: true})
		}
	}
	for i := 0; float64(i)*pace <= size.Y+1e-9; i++ {
		x := edge.x + float64(i)*pace*v.scale
		d.line("dim", point{x, edge.y + edge.h + 3}, point{x, edge.y + edge.h + 8})
		if i%2 == 0 || d.style == Imperial {
			d.text("dimtext", point{x, edge.y + edge.h + 18}, d.style.tick(float64(i)*pace))
		}
	}
	d.text("walltext", point{edge.x + edge.w/2, edge.y - 16}, "front wall")
}

// tick writes the length at a mark of a ruler: "2 m", "6 ft".
func (s Style) tick(m float64) string {
	if s == Imperial {
		return decimal(m/0.3048, 0) + " ft"
	}
	return decimal(m, 0) + " m"
}

// toneDrawing draws the level of both speakers together at frequency i of the map. It
// returns which places have a figure.
func toneDrawing(m *Maps, id string, i int) (*drawing, tiles, []int) {
	l, p := &m.Survey.Levels, m.Project
	d, v := newFloorDrawing(m, id, "Sound level at "+Frequency(l.Grid[i])+", both speakers together", toneDesc(m, i))
	t := newTiles(l.Floor, v)
	level := func(n int) model.Level { return l.At(response.BothTogether, n, i) }
	d.tint(t, &levelBands, level)
	for _, b := range p.Room.Blocks {
		d.rect("block", v.box(b))
	}
	d.frame(m, v)
	d.Shapes = slices.DeleteFunc(d.Shapes, func(s shape) bool { return s.Class == "letter" }) // explained under the first map
	labels := d.values(t, func(n int) string {
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
	v := view{origin: point{mapSide - (a.Y[0]-dy/2)*scale, mapTop - (a.X[0]-dx/2)*scale}, scale: scale}
	d := &drawing{
		ID: id, Title: "Spread with " + m.offName(i) + " off the mark", Desc: aboutDesc(m, i), style: m.Style,
		Width: px(wide*scale + 2*mapSide), Height: px(deep*scale + mapTop + mapBottom),
	}
	t := newTiles(a.Floor, v)
	d.tint(t, &spreadBands, func(n int) model.Level { return a.Spread[n] - m.Survey.Here })
	d.hatch("barred", t, func(n int) bool { return a.Open(n) && !a.Allowed(n) })
	middle := t.middle(a.Len() / 2)
	d.circle("best", middle, 7)
	d.keep(around8(middle))
	d.values(t, func(n int) string {
		if !a.Open(n) {
			return ""
		}
		return decimal(float64(a.Spread[n]), 1)
	})
	d.offsets(t)
	d.Key = spreadBands.key("up to 1 dB more than exactly in place, or less")
	d.Key = append(d.Key, keyEntry{Tint: "barred", Text: "a rule of the room file is against it"})
	return d, t
}

// offsets marks along two edges of a map about a mark how far off its cells are.
func (d *drawing) offsets(t tiles) {
	width, height := t.W*float64(t.Columns), t.H*float64(t.Rows)
	for _, share := range []float64{-1, -0.5, 0, 0.5, 1} {
		words := d.style.Plan(math.Abs(share) * optimize.SurveyReach)
		if share == 0 {
			words = "0"
		}
		x, y := t.X+width/2+share*(width-t.W)/2, t.Y+height/2+share*(height-t.H)/2
		d.text("dimtext", point{x, t.Y + height + 14}, words)
		d.Shapes = append(d.Shapes, shape{Kind: "text", Class: "dimtext", X: px(t.X - 6), Y: px(y), Text: words, Right: true})
	}
	d.text("walltext", point{t.X + width/2, t.Y - 14}, "towards the front wall")
}
