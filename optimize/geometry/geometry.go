package geometry

import (
	"cmp"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Span is a closed interval in m. It is empty if hi < lo.
type Span struct{ Lo, Hi float64 }

// SpanOf returns a range as a span, or the fallback if it is not given.
func SpanOf(r model.Range, fallback Span) Span {
	if !r.Given() {
		return fallback
	}
	return Span{r.Min, r.Max}
}

func (s Span) Empty() bool     { return s.Hi < s.Lo }
func (s Span) Length() float64 { return max(0, s.Hi-s.Lo) }

func (s Span) And(t Span) Span { return Span{max(s.Lo, t.Lo), min(s.Hi, t.Hi)} }

// Hull returns the smallest span that holds both.
func (s Span) Hull(t Span) Span { return Span{min(s.Lo, t.Lo), max(s.Hi, t.Hi)} }

func (s Span) Grow(d float64) Span { return Span{s.Lo - d, s.Hi + d} }

// Shift returns the span moved by d.
func (s Span) Shift(d float64) Span { return Span{s.Lo + d, s.Hi + d} }

func (s Span) Clamp(v float64) float64 { return max(s.Lo, min(s.Hi, v)) }

// Contains allows for rounding.
func (s Span) Contains(v float64) bool { return v >= s.Lo-1e-9 && v <= s.Hi+1e-9 }

// Near returns the part of s that lies in t or, if there is none, the point of s nearest to
// t.
func (s Span) Near(t Span) Span {
	if both := s.And(t); !both.Empty() {
		return both
	}
	v := s.Clamp((t.Lo + t.Hi) / 2)
	if !t.Empty() {
		v = s.Clamp(t.Clamp(v))
	}
	return Span{v, v}
}

// Mirror returns the span reflected about v.
func (s Span) Mirror(v float64) Span { return Span{2*v - s.Hi, 2*v - s.Lo} }

// Parts returns n spans of the same length, end to end.
func (s Span) Parts(n int) []Span {
	list := make([]Span, n)
	lo := s.Lo
	for i := range list {
		hi := s.Lo + (s.Hi-s.Lo)*float64(i+1)/float64(n)
		if i == n-1 {
			hi = s.Hi
		}
		list[i], lo = Span{lo, hi}, hi
	}
	return list
}

// Lattice returns the place of the lattice origin + n·step nearest to v that is in the span;
// if the span holds none, v itself, clamped.
func (s Span) Lattice(v, origin, step float64) float64 {
	n := math.Round((v - origin) / step)
	n = max(n, math.Ceil((s.Lo-origin)/step-1e-6))
	n = min(n, math.Floor((s.Hi-origin)/step+1e-6))
	if at := origin + n*step; s.Contains(at) {
		return Round(at)
	}
	return Round(s.Clamp(v))
}

// Round rounds to a tenth of a millimetre, so that equal places are equal numbers however
// they were computed.
func Round(v float64) float64 { return math.Round(v*1e4) / 1e4 }

func RoundVec(v r3.Vec) r3.Vec { return r3.Vec{X: Round(v.X), Y: Round(v.Y), Z: Round(v.Z)} }

// Area is a rectangle of the floor.
type Area struct{ X, Y Span }

func (a Area) Empty() bool      { return a.X.Empty() || a.Y.Empty() }
func (a Area) And(b Area) Area  { return Area{a.X.And(b.X), a.Y.And(b.Y)} }
func (a Area) Hull(b Area) Area { return Area{a.X.Hull(b.X), a.Y.Hull(b.Y)} }

// PointArea returns the area that is one place.
func PointArea(v r3.Vec) Area { return Area{Span{v.X, v.X}, Span{v.Y, v.Y}} }

// HullOf returns the smallest rectangle that holds all areas; there must be one.
func HullOf(areas []Area) Area {
	h := areas[0]
	for _, a := range areas[1:] {
		h = h.Hull(a)
	}
	return h
}

// Same reports whether two coordinates, m, are equal.
func Same(a, b float64) bool { return math.Abs(a-b) < 1e-7 }

// Inside moves a place into the room and rounds it to a tenth of a millimetre.
func Inside(v, size r3.Vec) r3.Vec {
	return r3.Vec{X: within(v.X, size.X), Y: within(v.Y, size.Y), Z: within(v.Z, size.Z)}
}

// within is inside along one axis. It never rounds up past the wall, since an engine
// refuses places outside its room.
func within(v, size float64) float64 {
	if v = Round(max(0, min(size, v))); v > size {
		v = Round(v - 1e-4)
	}
	return v
}

// CompareLayouts orders layouts by where their marks are, so that no order depends on which
// of several goroutines came first.
func CompareLayouts(a, b model.Layout) int {
	return cmp.Or(CompareVec(a.Left, b.Left), CompareVec(a.Right, b.Right), CompareVec(a.Seat, b.Seat))
}

func CompareVec(a, b r3.Vec) int {
	return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Z, b.Z))
}

// Apart returns the largest distance between the same marks of two layouts, m.
func Apart(a, b model.Layout) float64 {
	return max(r3.Norm(r3.Sub(a.Left, b.Left)), r3.Norm(r3.Sub(a.Right, b.Right)), r3.Norm(r3.Sub(a.Seat, b.Seat)))
}
