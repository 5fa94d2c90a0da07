package score

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

// Steadiness is what becomes of a layout's spread where marks are missed and the listener leans.
type Steadiness struct {
	// Mean is over thirteen cases: the layout as marked, each speaker alone displaced in four
	// ways, and the listener leaning in four, dB.
	Mean model.Level

	// Leaning is the spread with the listener leaning the worst way, which Lean names, dB.
	Leaning model.Level
	Lean    Lean
}

// Lean is a way in which a listener leans.
type Lean int

// The ways to lean, in the order of [Around]. The zero value is none.
const (
	Upright Lean = iota
	Forwards
	Backwards
	Leftwards
	Rightwards
)

// String returns the word of a lean: "forwards".
func (l Lean) String() string {
	return [...]string{"upright", "forwards", "backwards", "to the left", "to the right"}[l]
}

// LeanDistance is how far the ears move when a listener leans, m: about what people do at a desk
// without moving the chair (common practice, no source).
const LeanDistance = 0.10

// leanWeight is the share of the worst lean in the robust spread: our own choice, no source. The
// mean alone hides a single bad direction among thirteen cases.
const leanWeight = 0.25

// Robust returns the figure that a search minimises: the mean, with the worst lean counting for
// a quarter.
func (t Steadiness) Robust() model.Level { return (1-leanWeight)*t.Mean + leanWeight*t.Leaning }

// Around returns a place and the four that are off by d in m: to the front, the back, the left and
// the right. None is beyond the walls of a room of that size.
func Around(v r3.Vec, d float64, size r3.Vec) [5]r3.Vec {
	places := [5]r3.Vec{v, {X: v.X - d, Y: v.Y, Z: v.Z}, {X: v.X + d, Y: v.Y, Z: v.Z}, {X: v.X, Y: v.Y - d, Z: v.Z}, {X: v.X, Y: v.Y + d, Z: v.Z}}
	for i := range places[1:] {
		places[i+1] = geometry.Inside(places[i+1], size)
	}
	return places
}
