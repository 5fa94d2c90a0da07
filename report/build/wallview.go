package build

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/svg"
)

// wallView maps a wall to a drawing, as someone in the room who faces it sees it. The
// ceiling is drawn like the plan: from above, with the front wall at the top.
type wallView struct {
	face        model.Face
	width, tall float64 // of the wall, m
	scale, left float64 // drawing units per metre, and where the wall begins
	whole       float64 // width of the drawing
}

func newWallView(r *model.Room, f model.Face, form svg.Form) wallView {
	wide := wallWide
	if form != svg.Wide {
		wide = wallNarrow
	}
	v := wallView{face: f, whole: wide + 2*wallMargin}
	v.width, v.tall = r.Extent(f)
	if f == model.Ceiling {
		v.width, v.tall = r.Size.Y, r.Size.X
	}
	v.scale = min(wide/v.width, wallTall/v.tall)
	v.left = (v.whole - v.width*v.scale) / 2
	return v
}

// span returns where a patch is from left to right as one faces the wall, and from
// bottom to top; on the ceiling, from the front wall.
func (v wallView) span(p model.Patch) (across, up model.Range) {
	across = model.Range{Min: p.Along, Max: p.Along + p.Width}
	up = model.Range{Min: p.Up, Max: p.Up + p.Height}
	switch v.face {
	case model.Back, model.Left:
		across = model.Range{Min: v.width - across.Max, Max: v.width - across.Min}
	case model.Ceiling:
		across, up = up, across
	}
	return across, up
}

func (v wallView) Rect(p model.Patch) svg.Rectangle {
	across, up := v.span(p)
	r := svg.RectAt(v.left+across.Min*v.scale, 0, (across.Max-across.Min)*v.scale, (up.Max-up.Min)*v.scale)
	r.Y = 24 + (v.tall-up.Max)*v.scale
	if v.face == model.Ceiling {
		r.Y = 24 + up.Min*v.scale
	}
	return r
}

// At returns where a place on an upright wall is drawn, along it and up.
func (v wallView) At(c r2.Vec) svg.Point {
	if v.face == model.Back || v.face == model.Left {
		c.X = v.width - c.X
	}
	return svg.XY(v.left+c.X*v.scale, 24+(v.tall-c.Y)*v.scale)
}

// outline returns the corners of an upright wall, along it and up: under a sloped ceiling it ends there.
func (v wallView) outline(r *model.Room) []r2.Vec {
	if len(r.Slopes) == 0 || v.face == model.Ceiling {
		return nil
	}
	along := func(p r3.Vec) float64 { return [2]float64{p.Y, p.X}[v.face.Axis()] }
	from, to := r.WallEnds(v.face)
	corners := model.Polygon{{}, {X: v.width}}
	for _, p := range slices.Backward(r.CeilingLine(from, to)) {
		corners = append(corners, r2.Vec{X: along(p), Y: p.Z})
	}
	return corners.Simplified()
}

// leftCorner names the corner from which distances along the wall count.
func (v wallView) leftCorner() string {
	switch v.face {
	case model.Front, model.Ceiling:
		return "left wall"
	case model.Right:
		return "front wall"
	case model.Back:
		return "right wall"
	}
	return "back wall"
}
