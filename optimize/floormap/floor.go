package floormap

import (
	"math"

	"evenbass/model"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Floor is a lattice of places at one height above the floor. Place n is in row
// n / len(Y), counted from the front wall, and column n % len(Y), counted from the left
// wall.
type Floor struct {
	X, Y   []float64 // m, ascending
	Height float64   // of every place, m
}

// newFloor lays a lattice over a rectangle of the given size in m. Its places are the
// centres of equal cells about pitch m long and wide. The number of columns is odd, so that
// one lies on the mid-line.
func newFloor(size r3.Vec, height, pitch float64) Floor {
	columns := 2*int(math.Round((size.Y/pitch-1)/2)) + 1
	return Floor{X: centres(size.X, int(math.Round(size.X/pitch))), Y: centres(size.Y, columns), Height: height}
}

// centres returns the centres of n equal parts, at least one.
func centres(length float64, n int) []float64 {
	at := make([]float64, max(1, n))
	for i := range at {
		at[i] = geometry.Round(length * (float64(i) + 0.5) / float64(len(at)))
	}
	return at
}

// floorAround lays a lattice around a place, out to reach in m, with an odd number of
// places each way.
func floorAround(v r3.Vec, reach, pitch float64) Floor {
	f := Floor{Height: v.Z}
	n := int(math.Round(reach / pitch))
	for i := -n; i <= n; i++ {
		f.X = append(f.X, geometry.Round(v.X+float64(i)*pitch))
		f.Y = append(f.Y, geometry.Round(v.Y+float64(i)*pitch))
	}
	return f
}

// Len returns the number of places.
func (f Floor) Len() int { return len(f.X) * len(f.Y) }

// Place returns place n in m.
func (f Floor) Place(n int) r3.Vec {
	return r3.Vec{X: f.X[n/len(f.Y)], Y: f.Y[n%len(f.Y)], Z: f.Height}
}

// Nearest returns the number of the place nearest to v on plan.
func (f Floor) Nearest(v r3.Vec) int {
	return nearest(f.X, v.X)*len(f.Y) + nearest(f.Y, v.Y)
}

func nearest(list []float64, v float64) int {
	best := 0
	for i, at := range list {
		if math.Abs(at-v) < math.Abs(list[best]-v) {
			best = i
		}
	}
	return best
}

// Pitch returns the distance between neighbouring rows and columns, m; the size of the
// cell where there is only one.
func (f Floor) Pitch() (x, y float64) { return pitchOf(f.X), pitchOf(f.Y) }

func pitchOf(list []float64) float64 {
	if len(list) < 2 {
		return 2 * list[0]
	}
	return (list[len(list)-1] - list[0]) / float64(len(list)-1)
}

// InAir reports whether a place is in a room's air: on its plan, under its ceiling and
// in no solid and no treatment.
func InAir(room *model.Room, v r3.Vec) bool {
	on := r2.Vec{X: v.X, Y: v.Y}
	if !(&model.Box{Size: room.Size}).Contains(v) || v.Z > room.CeilingAt(on) {
		return false
	}
	if len(room.Outline) > 0 && !room.Outline.Contains(on) {
		return false
	}
	for _, b := range room.Blocks {
		if b.Contains(v) {
			return false
		}
	}
	for i := range room.Treatments {
		for b := range room.Spaces(&room.Treatments[i]) {
			if b.Contains(v) {
				return false
			}
		}
	}
	return true
}
