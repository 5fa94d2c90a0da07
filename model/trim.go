package model

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// SlopeClearance is how far the cut edge of layers on a wall ends from a sloped ceiling, straight away
// from it, m: room for cloth, and for a slope that is not quite straight. Common practice, no source.
const SlopeClearance = 0.01

// LeastTrimmed is the least height of what a sloped ceiling leaves of layers, m. A piece ends where it would
// be lower. Common practice, no source: below it neither wool nor a frame holds together.
const LeastTrimmed = 0.10

// ToCeiling returns a rectangle on an upright wall that begins where the given one does and reaches to
// where the ceiling is highest over it. On floor and ceiling, and without slopes, the given one is returned.
func (r *Room) ToCeiling(p Patch) Patch {
	if len(r.Slopes) == 0 || p.Face.Axis() == 2 {
		return p
	}
	if h := CleanLength(math.Floor(1000*r.topOver(p)+1e-6)/1000 - p.Up); h > 0 && h < p.Height {
		p.Height = h
	}
	return p
}

// topOver returns the greatest height of the ceiling over an upright patch, m.
func (r *Room) topOver(p Patch) float64 {
	s := r.stretchAt(p, r.side(p.Face))
	var top float64
	for _, v := range r.CeilingLine(s.From, s.To) {
		top = max(top, v.Z)
	}
	return top
}

// TrimmedFace returns the outline of layers on a wall as one sees their face: along the wall and up, m,
// counter-clockwise from the lower end nearer the origin. It is their rectangle, unless a sloped ceiling is
// lower somewhere over their depth. Then it follows the ceiling at [SlopeClearance], square to the wall,
// and ends where it is [LeastTrimmed] high. It is nil if that leaves nothing.
func (r *Room) TrimmedFace(t *Treatment) Polygon {
	p := t.Patch
	face := Polygon{
		{X: p.Along, Y: p.Up}, {X: p.Along + p.Width, Y: p.Up},
		{X: p.Along + p.Width, Y: p.Up + p.Height}, {X: p.Along, Y: p.Up + p.Height},
	}
	if !r.crossesSlope(t) {
		return face
	}
	for _, s := range r.Slopes {
		for _, depth := range [2]float64{0, t.Depth()} {
			height, rise := r.slopeLine(s, p, depth)
			face = face.Clip(height, r2.Vec{X: rise, Y: -1})
		}
	}
	least := min(LeastTrimmed, p.Height/2)
	high := face.spanAt(p.Up + least)
	if high.Max-high.Min < min(LeastTrimmed, p.Width/2) {
		return nil
	}
	return face.Window(high, Range{p.Up, p.Up + p.Height}).Simplified()
}

// Trimmed reports whether a sloped ceiling cuts a treatment: layers on an upright wall that would reach
// above it.
func (r *Room) Trimmed(t *Treatment) bool {
	return t.Form == OnWall && r.crossesSlope(t)
}

// crossesSlope reports whether the rectangle of layers on an upright wall reaches above a sloped ceiling.
func (r *Room) crossesSlope(t *Treatment) bool {
	p := t.Patch
	return len(r.Slopes) > 0 && p.Face.Axis() != 2 && p.Up+p.Height > r.CeilingOver(r.inFront(p, t.Depth()))+slack
}

// slopeLine returns the upper limit of layers below a slope, at a distance from their wall, as
// height + rise·(place along the wall).
func (r *Room) slopeLine(s Slope, p Patch, depth float64) (height, rise float64) {
	height, per := s.Plane()
	at := r.stretchAt(Patch{Face: p.Face}, r.side(p.Face))
	height += r2.Dot(per, r2.Add(at.From, r2.Scale(depth, at.Inward)))
	if per != (r2.Vec{}) {
		height -= SlopeClearance * math.Sqrt(1+r2.Norm2(per))
	}
	return height, [2]float64{per.Y, per.X}[p.Face.Axis()]
}

// FacePatch returns the rectangle about what a sloped ceiling leaves of layers on a wall, or their whole
// one if it leaves nothing.
func (r *Room) FacePatch(t *Treatment) Patch {
	if !r.Trimmed(t) {
		return t.Patch
	}
	face := r.TrimmedFace(t)
	if face == nil {
		return t.Patch
	}
	x, y := face.Bounds()
	return Patch{Face: t.Patch.Face, Along: x.Min, Up: y.Min, Width: x.Max - x.Min, Height: y.Max - y.Min}
}
