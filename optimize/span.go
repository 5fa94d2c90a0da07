package optimize

import (
	"cmp"
	"math"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// span is a closed interval in m. It is empty if hi < lo.
type span struct{ lo, hi float64 }

// spanOf returns a range as a span, or the fallback if it is not given.
func spanOf(r model.Range, fallback span) span {
	if !r.Given() {
		return fallback
	}
	return span{r.Min, r.Max}
}

func (s span) empty() bool     { return s.hi < s.lo }
func (s span) length() float64 { return max(0, s.hi-s.lo) }

func (s span) and(t span) span { return span{max(s.lo, t.lo), min(s.hi, t.hi)} }

// hull returns the smallest span that holds both.
func (s span) hull(t span) span { return span{min(s.lo, t.lo), max(s.hi, t.hi)} }

func (s span) grow(d float64) span { return span{s.lo - d, s.hi + d} }

func (s span) clamp(v float64) float64 { return max(s.lo, min(s.hi, v)) }

// contains allows for rounding.
func (s span) contains(v float64) bool { return v >= s.lo-1e-9 && v <= s.hi+1e-9 }

// near returns the part of s that lies in t or, if there is none, the point of s nearest to
// t.
func (s span) near(t span) span {
	if both := s.and(t); !both.empty() {
		return both
	}
	v := s.clamp((t.lo + t.hi) / 2)
	if !t.empty() {
		v = s.clamp(t.clamp(v))
	}
	return span{v, v}
}

// mirror returns the span reflected about v.
func (s span) mirror(v float64) span { return span{2*v - s.hi, 2*v - s.lo} }

// lattice returns the place of the lattice origin + n·step nearest to v that is in the span;
// if the span holds none, v itself, clamped.
func (s span) lattice(v, origin, step float64) float64 {
	n := math.Round((v - origin) / step)
	n = max(n, math.Ceil((s.lo-origin)/step-1e-6))
	n = min(n, math.Floor((s.hi-origin)/step+1e-6))
	if at := origin + n*step; s.contains(at) {
		return tidy(at)
	}
	return tidy(s.clamp(v))
}

// tidy rounds to a tenth of a millimetre, so that equal places are equal numbers however
// they were computed.
func tidy(v float64) float64 { return math.Round(v*1e4) / 1e4 }

func tidyVec(v r3.Vec) r3.Vec { return r3.Vec{X: tidy(v.X), Y: tidy(v.Y), Z: tidy(v.Z)} }

// area is a rectangle of the floor.
type area struct{ x, y span }

func (a area) empty() bool      { return a.x.empty() || a.y.empty() }
func (a area) and(b area) area  { return area{a.x.and(b.x), a.y.and(b.y)} }
func (a area) hull(b area) area { return area{a.x.hull(b.x), a.y.hull(b.y)} }

// pointArea returns the area that is one place.
func pointArea(v r3.Vec) area { return area{span{v.X, v.X}, span{v.Y, v.Y}} }

// hullOf returns the smallest rectangle that holds all areas; there must be one.
func hullOf(areas []area) area {
	h := areas[0]
	for _, a := range areas[1:] {
		h = h.hull(a)
	}
	return h
}

// same reports whether two coordinates, m, are equal.
func same(a, b float64) bool { return math.Abs(a-b) < 1e-7 }

// inside moves a place into the room and rounds it to a tenth of a millimetre.
func inside(v, size r3.Vec) r3.Vec {
	return r3.Vec{X: within(v.X, size.X), Y: within(v.Y, size.Y), Z: within(v.Z, size.Z)}
}

// within is inside along one axis. It never rounds up past the wall, since an engine
// refuses places outside its room.
func within(v, size float64) float64 {
	if v = tidy(max(0, min(size, v))); v > size {
		v = tidy(v - 1e-4)
	}
	return v
}

// compareLayouts orders layouts by where their marks are, so that no order depends on which
// of several goroutines came first.
func compareLayouts(a, b model.Layout) int {
	return cmp.Or(compareVec(a.Left, b.Left), compareVec(a.Right, b.Right), compareVec(a.Seat, b.Seat))
}

func compareVec(a, b r3.Vec) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Z, b.Z))
}
