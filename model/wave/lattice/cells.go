// Package lattice cuts a scene into cells. [New] takes a scene and a cell size and returns a
// [Medium]: what each cell holds and what each face between cells lets through, the longest
// stable step in time, and the cells that interpolate the pressure at a place.
//
// # What a cell and a face are
//
// Pressure p lives in cells, the volume velocity per area u on the faces between
// them. Everything is a mass, a resistance and a spring:
//
//	V/(ρc²) dp/dt = -Σ A u + Q       cell of volume V, faces of area A, source Q
//	m du/dt + r u + K∫u dt = Δp       face
//
//	air        m = ρh
//	porous     mass and drag of absorber.PorousVolume; the cell's compliance is
//	           isothermal at low frequencies; a limp skeleton is one more mass behind r
//	limp film  m grows by the film's surface mass
//	wall       one cell only; its branches M, R, K in parallel, behind the air
//	           between the cell's middle and the wall
//
// # Shapes
//
// A wall that cuts a cell keeps its place by volume: the cell has its true share of air and
// each face its open share, exact for outlines, sloped planes and blocks. A film likewise
// moves the face that it hangs in, and one on the slope of a fill divides the cells that it cuts.
// Faces near an edge that juts into the air have the flow of the exact solution there.
//
// # Limits
//
// Surfaces react locally. Material thinner than a cell, or so dense that a wave decays within
// one, is drawn with a warning. A limp skeleton has no stiffness, and the skeleton of one cell
// does not push that of the next. A film within half a cell of a wall is left out, with a
// warning.
//
// # Symbols
//
//	h      cell size, m; hx, hy, hz where they differ
//	H²     mean of the squares of the three cell sizes, m²
//	β      specific admittance of a wall
package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
)

// Cells is the grid of cells over the room's bounding box, which they fill exactly on each axis.
// Arrays over cells have one ghost layer all round, so that a neighbour is always a fixed stride
// away. Kernels compute a row along x in groups of [vector.Lanes] cells; a first or last group that is
// not full continues in ghosts. Every row begins a whole number of groups from the start of the array,
// so that groups of all rows cross no two cache lines if those of one do not.
type Cells struct {
	N      [3]int     // cells
	H      [3]float64 // cell size, m
	Stride [3]int
	Size   int // of an array, ghosts included
}

// NewCells returns cells of about the given size in m over a box.
func NewCells(size r3.Vec, cell float64) Cells {
	var l Cells
	for a, length := range [3]float64{size.X, size.Y, size.Z} {
		l.N[a] = max(1, int(math.Round(length/cell)))
		l.H[a] = length / float64(l.N[a])
	}
	row := (l.N[0] + 2 + vector.Lanes - 1) / vector.Lanes * vector.Lanes
	l.Stride = [3]int{1, row, row * (l.N[1] + 2)}
	l.Size = l.Stride[2]*(l.N[2]+2) + 3*vector.Lanes // two groups before the first row and one after the last
	return l
}

// At returns the array index of a cell. Coordinates of -1 and N are ghosts.
func (l *Cells) At(i, j, k int) int {
	return i + 2*vector.Lanes + (j+1)*l.Stride[1] + (k+1)*l.Stride[2]
}

// place is the inverse of At.
func (l *Cells) place(index int) [3]int {
	index -= 2*vector.Lanes - 1 // counted from the first ghost of the first row
	return [3]int{
		index%l.Stride[1] - 1,
		index%l.Stride[2]/l.Stride[1] - 1,
		index/l.Stride[2] - 1,
	}
}

// Extent returns the size of the bounding box, m.
func (l *Cells) Extent() r3.Vec {
	return r3.Vec{X: float64(l.N[0]) * l.H[0], Y: float64(l.N[1]) * l.H[1], Z: float64(l.N[2]) * l.H[2]}
}

// middle returns the centre of a cell.
func (l *Cells) middle(c [3]int) r3.Vec {
	return r3.Vec{
		X: (float64(c[0]) + 0.5) * l.H[0],
		Y: (float64(c[1]) + 0.5) * l.H[1],
		Z: (float64(c[2]) + 0.5) * l.H[2],
	}
}

// Count returns the number of cells without ghosts.
func (l *Cells) Count() int { return l.N[0] * l.N[1] * l.N[2] }

// Volume returns the volume of a whole cell, m³.
func (l *Cells) Volume() float64 { return l.H[0] * l.H[1] * l.H[2] }

// Each calls f for every cell, in the order of the arrays.
func (l *Cells) Each(f func(index int, c [3]int)) {
	for k := range l.N[2] {
		for j := range l.N[1] {
			row := l.At(0, j, k)
			for i := range l.N[0] {
				f(row+i, [3]int{i, j, k})
			}
		}
	}
}

// around calls f for every cell that reaches a box or lies beside one that does, in the order of the arrays.
func (l *Cells) around(low, high r3.Vec, f func(index int, c [3]int)) {
	var first, last [3]int
	from, to := scene.Components(low), scene.Components(high)
	for a := range 3 {
		first[a] = max(0, int(math.Floor(from[a]/l.H[a]))-1)
		last[a] = min(l.N[a]-1, int(math.Floor(to[a]/l.H[a]))+1)
	}
	for k := first[2]; k <= last[2]; k++ {
		for j := first[1]; j <= last[1]; j++ {
			for i := first[0]; i <= last[0]; i++ {
				f(l.At(i, j, k), [3]int{i, j, k})
			}
		}
	}
}

// MeanSquare returns H², the mean square of the cell sizes over the axes with more than one cell,
// m².
func (l *Cells) MeanSquare() float64 {
	var sum, count float64
	for a := range 3 {
		if l.N[a] > 1 {
			sum += l.H[a] * l.H[a]
			count++
		}
	}
	if count == 0 {
		return l.H[0] * l.H[0]
	}
	return sum / count
}
