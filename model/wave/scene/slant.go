package scene

import (
	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// Slant is the plane of a film that cuts cells at an angle, along one axis. The part of a cell in front
// of it, where Height + Rise·p >= 0 for p on the two other axes in the order of [OtherAxes], belongs to
// the air before the film. The film itself is in Scene.Films, along the borders of the cells that are
// [Slant.Behind] it.
type Slant struct {
	Axis     int
	From, To float64 // m
	Height   float64 // m
	Rise     r2.Vec
	Stretch  float64 // length of the borders in relation to that of the film
}

// Front returns the share of a rectangle that lies in front.
func (s Slant) Front(low, high r2.Vec) float64 {
	whole := model.Polygon{low, {X: high.X, Y: low.Y}, high, {X: low.X, Y: high.Y}}
	return whole.Clip(s.Height, s.Rise).Area() / whole.Area()
}

// FrontOf returns the share of a line that lies in front.
func (s Slant) FrontOf(a, b r2.Vec) float64 {
	from, to := s.Height+r2.Dot(s.Rise, a), s.Height+r2.Dot(s.Rise, b)
	switch {
	case from >= 0 && to >= 0:
		return 1
	case from < 0 && to < 0:
		return 0
	}
	return max(from, to) / (max(from, to) - min(from, to))
}

// A cell of which at least the share leastFront lies in front of a film belongs to the front. The
// part behind joins the cells beyond, and only its volume counts.
const leastFront = 0.25

// Behind reports whether a cell over a rectangle lies behind the film.
func (s Slant) Behind(low, high r2.Vec) bool { return s.Front(low, high) < leastFront }
