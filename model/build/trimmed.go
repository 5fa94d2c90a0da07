package build

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// surface is a plane that pieces side by side cover.
type surface struct {
	face  model.Polygon                   // along and up, m
	space func(model.Polygon) model.Block // that a part of the face stands in
}

// surfaces returns what the pieces of a treatment cover: its face, as a slope trims it, or its part of each
// plane of a sloped ceiling.
func (m *maker) surfaces(t *model.Treatment) []surface {
	room := &m.project.Room
	along, up := face(t)
	switch {
	case t.Form != model.OnWall:
		return []surface{{rectangleOf(along, up), func(f model.Polygon) model.Block {
			x, y := f.Bounds()
			q := part(t, x.Min, y.Min, x.Max-x.Min, y.Max-y.Min)
			return room.Space(&q)
		}}}
	case t.Patch.Face == model.Ceiling && len(room.Slopes) > 0:
		var list []surface
		for _, c := range room.CeilingFaces(t) {
			list = append(list, surface{c.Face, (&c).Space})
		}
		return list
	}
	return []surface{{room.TrimmedFace(t), func(f model.Polygon) model.Block {
		x, y := f.Bounds()
		q := *t
		q.Patch.Along, q.Patch.Up, q.Patch.Width, q.Patch.Height = x.Min, y.Min, x.Max-x.Min, y.Max-y.Min
		return room.Space(&q)
	}}}
}

// rectangleOf returns a rectangle from the origin on.
func rectangleOf(along, up float64) model.Polygon {
	return model.Polygon{{}, {X: along}, {X: along, Y: up}, {Y: up}}
}

// rectangular reports whether a convex polygon is an upright rectangle.
func rectangular(p model.Polygon) bool {
	x, y := p.Bounds()
	return math.Abs(p.Area()-(x.Max-x.Min)*(y.Max-y.Min)) < slack
}

// divided cuts a face into parts of the width and height of a batt, row by row from below. A part that is
// no rectangle goes up to the slope in one, so that it has two upright sides.
func divided(face model.Polygon, w, h float64) []model.Polygon {
	along, up := face.Bounds()
	width := along.Max - along.Min
	var rows [][]model.Polygon
	for x := range divisions(width, w) {
		from := along.Min + float64(x)*w
		column := face.Window(model.Range{Min: from, Max: from + side(width, w, x)}, up)
		for y, p := range stacked(column, h) {
			if y == len(rows) {
				rows = append(rows, nil)
			}
			rows[y] = append(rows[y], p)
		}
	}
	return slices.Concat(rows...)
}

// stacked divides a column into parts one above the other.
func stacked(column model.Polygon, h float64) []model.Polygon {
	x, y := column.Bounds()
	height := y.Max - y.Min
	var list []model.Polygon
	cut := func(from, to float64) { list = append(list, column.Window(x, model.Range{Min: from, Max: to})) }
	if rectangular(column) {
		for i := range divisions(height, h) {
			from := y.Min + float64(i)*h
			cut(from, from+side(height, h, i))
		}
		return list
	}
	whole := max(0, int(math.Floor((column.LowEnd()-y.Min-leastStrip)/h+slack)))
	for i := range whole {
		cut(y.Min+float64(i)*h, y.Min+float64(i+1)*h)
	}
	cut(y.Min+float64(whole)*h, y.Max)
	return list
}

// sharpest is the sharpest corner that a frame on a ceiling is given, rad: 60°, whose mitre a saw still cuts.
// Common practice, no source.
const sharpest = math.Pi / 3

// blunted cuts the corners of a convex polygon that are sharper than [sharpest] off, where they are as wide as
// [model.LeastTrimmed].
func blunted(p model.Polygon) model.Polygon {
	p = p.Simplified()
	for i := 0; i < len(p); i++ {
		n := len(p)
		before, at, after := p[(i+n-1)%n], p[i], p[(i+1)%n]
		angle := inside([3]r2.Vec{before, at, after})
		if angle > sharpest-slack {
			continue
		}
		middle := r2.Unit(r2.Add(r2.Unit(r2.Sub(before, at)), r2.Unit(r2.Sub(after, at))))
		off := model.LeastTrimmed / 2 / math.Tan(angle/2)
		if p = p.Clip(-r2.Dot(middle, at)-off, middle).Simplified(); len(p) < 3 {
			return nil
		}
		i = -1 // its corners are others now
	}
	return p
}

// atOrigin returns a polygon moved so that what surrounds it begins at the origin.
func atOrigin(p model.Polygon) model.Polygon {
	x, y := p.Bounds()
	out := make(model.Polygon, len(p))
	for i, v := range p {
		out[i] = r2.Vec{X: model.CleanLength(v.X - x.Min), Y: model.CleanLength(v.Y - y.Min)}
	}
	return out
}

// shapeOf returns the shape of a part for a piece; false if it is so narrow that wool is squeezed in rather
// than cut.
func shapeOf(p model.Polygon, piece int) (Shape, bool) {
	p = p.Simplified()
	x, y := p.Bounds()
	s := Shape{Width: model.CleanLength(x.Max - x.Min), Height: model.CleanLength(y.Max - y.Min), Piece: piece}
	if !(min(s.Width, s.Height) > sliver) {
		return s, false
	}
	if !rectangular(p) {
		s.Outline = atOrigin(p)
	}
	return s, true
}

// Area is that of the face, m².
func (p *Piece) Area() float64 {
	if p.Outline == nil {
		return p.Width * p.Height
	}
	return p.Outline.Area()
}

// wrapped is the area of a sheet that reaches so far beyond all edges of the face, with a square at each of
// four corners, m².
func (p *Piece) wrapped(beyond float64) float64 {
	girth := 2 * (p.Width + p.Height)
	if p.Outline != nil {
		girth = 0
		for i := range p.Outline {
			from, to := p.Outline.Edge(i)
			girth += r2.Norm(r2.Sub(to, from))
		}
	}
	return p.Area() + girth*beyond + 4*beyond*beyond
}
