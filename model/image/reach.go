package image

import (
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

// Reach says how far the sum over images goes.
type Reach struct {
	Length float64 // m; images farther away are left out

	// Images is about how many images are within the length: its sphere's volume
	// over the room's (Kuttruff, Room Acoustics, Eq. 4.6 integrated).
	Images int

	// Remaining is the energy that would arrive later relative to the whole, at
	// the frequency where that is most.
	Remaining model.Level
}

// tail is the energy decay of an image sum at one frequency. In direction Ω a ray
// of length r meets the two walls of each axis r cosθ/(2L) times each, so that
// its energy falls as e^{-γr}, and as images lie evenly in space the energy per
// length is the mean of that over all directions.
type tail struct{ gamma, weight []float64 }

// directionNodes is the number of quadrature points per angle in one octant.
const directionNodes = 24

func newTail(box *model.Box, f float64) tail {
	var t tail
	w := wallsAt(box, f)
	size := components(box.Size)
	loss := -2 * imag(box.Air.Wavenumber(f))
	x, wx := make([]float64, directionNodes), make([]float64, directionNodes)
	quad.Legendre{}.FixedLocations(x, wx, 0, 1)
	for i, up := range x {
		flat := math.Sqrt(1 - up*up)
		for j, turn := range x {
			sin, cos := math.Sincos(turn * math.Pi / 2)
			gamma := loss
			for axis, c := range [3]float64{flat * cos, flat * sin, up} {
				r := Reflection(w[2*axis], c) * Reflection(w[2*axis+1], c)
				gamma -= c / size[axis] * math.Log(math.Hypot(real(r), imag(r)))
			}
			t.gamma = append(t.gamma, max(gamma, 0))
			t.weight = append(t.weight, wx[i]*wx[j])
		}
	}
	return t
}

// after returns the energy that arrives after a length r, up to a constant. It is
// infinite if some direction does not decay.
func (t tail) after(r float64) float64 {
	var sum float64
	for i, gamma := range t.gamma {
		if math.IsInf(gamma, 0) {
			continue
		}
		sum += t.weight[i] * math.Exp(-gamma*r) / gamma
	}
	return sum
}

// remaining returns the energy after r relative to all energy.
func (t tail) remaining(r float64) float64 {
	return t.after(r) / t.after(0)
}

// length returns the length after which the remaining energy is below the target, within a
// ten-millionth of itself so that it grows with the room, at most the given one.
func (t tail) length(target, most float64) float64 {
	if !(t.remaining(most) <= target) {
		return most
	}
	low, high := 0.0, most
	for high-low > 1e-7*high {
		if mid := (low + high) / 2; t.remaining(mid) > target {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// least returns the shortest length in m of any sum. It holds the direct sound and the first reflections from
// any place, before the end window.
func least(size r3.Vec) float64 { return 2 * r3.Norm(size) }

// newReach returns how far the sum must go at the frequency that asks for most. It
// is false if the room does not decay at one of them.
func newReach(box *model.Box, frequencies []float64, decay model.Level, most float64) (Reach, bool) {
	var reach Reach
	tails := make([]tail, len(frequencies))
	for i, f := range frequencies {
		tails[i] = newTail(box, f)
		if math.IsInf(tails[i].after(0), 0) {
			return Reach{}, false
		}
		reach.Length = max(reach.Length, tails[i].length(decay.Power(), most), least(box.Size))
	}
	var rest float64
	for _, t := range tails {
		rest = max(rest, t.remaining(reach.Length))
	}
	reach.Remaining = model.PowerLevel(rest)
	volume := box.Size.X * box.Size.Y * box.Size.Z
	reach.Images = int(4 * math.Pi / 3 * math.Pow(reach.Length, 3) / volume)
	return reach, true
}

// some returns up to a dozen frequencies spread over the grid, both ends included.
func some(grid model.Grid) []float64 {
	const parts = 11
	var list []float64
	for i := range parts + 1 {
		list = append(list, grid[i*(len(grid)-1)/parts])
	}
	return slices.Compact(list)
}
