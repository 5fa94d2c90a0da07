package draw

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/material/absorber"
)

// eaves draws a fill between a wall and a sloped ceiling as columns one cell wide, each from the
// fill's underside to the ceiling. The undersides of the columns and the risers between them carry
// the film. It is heavier by the ratio of their area to that of the true face.
func (d *draft) eaves(name string, c model.Corner, pieces []absorber.Piece) {
	g := d.columnsOf(c)
	fill := pieces[len(pieces)-1]
	for _, k := range g.list {
		if k.low < k.high {
			low, high := g.box(k)
			d.wool(name, low, high, fill.Porous, true)
		}
	}
	if pieces[0].Form != absorber.Film {
		return
	}
	var sheets [][2][3]float64
	var stair, face float64
	for i, k := range g.list {
		low, high := g.box(k)
		high[2] = low[2]
		sheets = append(sheets, [2][3]float64{low, high})
		face += k.face
		sheets = append(sheets, g.risers(i)...)
	}
	for _, s := range sheets {
		stair += area(s)
	}
	for _, s := range sheets {
		d.sheet(name, s[0], s[1], pieces[0].SurfaceMass*stair/face)
	}
}

// area returns the area of a flat box, m².
func area(s [2][3]float64) float64 {
	product := 1.0
	for a := range 3 {
		if side := s[1][a] - s[0][a]; side > 0 {
			product *= side
		}
	}
	return product
}

// fillColumn is an upright piece of a fill.
type fillColumn struct {
	away, on  model.Range // distances from the wall, and along the edge, m
	low, high float64     // underside and ceiling, m
	end       float64     // height of the ceiling at the far side of the column, m
	last      bool        // the fill ends behind this column
	face      float64     // area of the true face within it, m²
}

// fillColumns are the columns of a fill along the ceiling.
type fillColumns struct {
	d    *draft
	c    model.Corner
	list []fillColumn
}

// columnsOf cuts a fill at the borders of the cells: across the wall, and along it where the
// ceiling is not level.
func (d *draft) columnsOf(c model.Corner) *fillColumns {
	g := &fillColumns{d: d, c: c}
	along := []model.Range{{Min: c.From, Max: c.To}}
	if !d.level(c) {
		along = d.columns(c.Axis(), c.From, c.To)
	}
	for _, on := range along {
		at := (on.Min + on.Max) / 2
		reach, _ := d.room.Underside(c, at, 0)
		away := d.columns(c.Upright().Axis(), 0, reach)
		for i, s := range away {
			g.list = append(g.list, g.column(s, on, i == len(away)-1))
		}
	}
	return g
}

// level reports whether the ceiling above a fill is the same all along it.
func (d *draft) level(c model.Corner) bool {
	first := d.room.Section(c, c.From)
	for _, at := range [2]float64{(c.From + c.To) / 2, c.To} {
		section := d.room.Section(c, at)
		if len(section) != len(first) {
			return false
		}
		for i, v := range section {
			if math.Abs(v.Z-first[i].Z) > 1e-6 {
				return false
			}
		}
	}
	return true
}

// column returns the column over two ranges.
func (g *fillColumns) column(away, on model.Range, last bool) fillColumn {
	k := fillColumn{away: away, on: on, last: last}
	s, at := (away.Min+away.Max)/2, (on.Min+on.Max)/2
	_, k.low = g.d.room.Underside(g.c, at, s)
	for _, u := range [2]float64{away.Min, away.Max} {
		for _, v := range [2]float64{on.Min, on.Max} {
			k.high = max(k.high, g.ceiling(u, v))
		}
	}
	under := func(s, at float64) float64 { _, z := g.d.room.Underside(g.c, at, s); return z }
	wide, long := away.Max-away.Min, on.Max-on.Min
	ds := (under(away.Max, at) - under(away.Min, at)) / wide
	dt := (under(s, on.Max) - under(s, on.Min)) / long
	k.face = wide * long * math.Sqrt(1+ds*ds+dt*dt)
	if k.end = g.ceiling(away.Max, at); last && g.c.Square {
		k.face += long * g.c.Leg
	}
	return k
}

// ceiling returns the height of the ceiling at a distance from the wall and a place along the edge,
// m.
func (g *fillColumns) ceiling(away, on float64) float64 {
	var v [2]float64
	v[g.c.Upright().Axis()], _ = g.d.fromWall(g.c.Upright(), model.Range{Min: away, Max: away})
	v[g.c.Axis()] = on
	return g.d.room.CeilingAt(r2.Vec{X: v[0], Y: v[1]})
}

// box returns the corners of a column.
func (g *fillColumns) box(k fillColumn) (low, high [3]float64) {
	wall, edge := g.c.Upright(), g.c.Axis()
	low[edge], high[edge] = k.on.Min, k.on.Max
	low[wall.Axis()], high[wall.Axis()] = g.d.fromWall(wall, k.away)
	low[2], high[2] = k.low, k.high
	return low, high
}

// risers returns the upright sheets behind column i: across the wall, and along it.
func (g *fillColumns) risers(i int) [][2][3]float64 {
	var list [][2][3]float64
	k := g.list[i]
	add := func(away, on model.Range, z float64) {
		if z == k.low {
			return
		}
		low, high := g.box(fillColumn{away: away, on: on, low: min(k.low, z), high: max(k.low, z)})
		list = append(list, [2][3]float64{low, high})
	}
	behind := k.end
	if !k.last {
		behind = g.list[i+1].low
	}
	add(model.Range{Min: k.away.Max, Max: k.away.Max}, k.on, behind)
	for _, n := range g.list[i+1:] {
		if n.away.Min == k.away.Min && n.on.Min == k.on.Max {
			add(k.away, model.Range{Min: k.on.Max, Max: k.on.Max}, n.low)
		}
	}
	return list
}
