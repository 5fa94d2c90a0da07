package wave

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// lattice is the grid of cells over the room's bounding box. Cells fit the box
// exactly on each axis. Arrays over cells carry one ghost layer all round, so
// that a neighbour is always a fixed stride away. Rows along x are marched in
// groups of lanes cells; where the last group is not full, there are more ghosts.
// Every row begins a whole number of groups from the begin of the array, so that no
// group lies across two lines of the processor's cache.
type lattice struct {
	n      [3]int     // cells
	h      [3]float64 // cell size, m
	stride [3]int
	size   int // of an array, ghosts included
}

// lanes is the number of cells that are marched side by side.
const lanes = 8

func newLattice(size r3.Vec, cell float64) lattice {
	var l lattice
	for a, length := range [3]float64{size.X, size.Y, size.Z} {
		l.n[a] = max(1, int(math.Round(length/cell)))
		l.h[a] = length / float64(l.n[a])
	}
	row := (l.n[0] + 2 + lanes - 1) / lanes * lanes
	l.stride = [3]int{1, row, row * (l.n[1] + 2)}
	l.size = l.stride[2]*(l.n[2]+2) + 2*lanes // a group before the first row and after the last
	return l
}

// neighbours returns the offsets of the 18 cells across the faces and edges of a
// cell, from the lowest up.
func neighbours(stride [3]int) (offsets [18]int) {
	n := 0
	for dz := -1; dz <= 1; dz++ {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if d := dx*dx + dy*dy + dz*dz; d == 1 || d == 2 {
					offsets[n] = dx + dy*stride[1] + dz*stride[2]
					n++
				}
			}
		}
	}
	return offsets
}

// groups returns the number of groups of cells in a row.
func (l *lattice) groups() int { return (l.n[0] + lanes - 1) / lanes }

// at returns the array index of a cell; -1 and n are ghosts.
func (l *lattice) at(i, j, k int) int {
	return i + lanes + (j+1)*l.stride[1] + (k+1)*l.stride[2]
}

// place is the inverse of at.
func (l *lattice) place(index int) [3]int {
	index -= lanes - 1 // from the first ghost of the first row
	return [3]int{
		index%l.stride[1] - 1,
		index%l.stride[2]/l.stride[1] - 1,
		index/l.stride[2] - 1,
	}
}

// middle returns the centre of a cell.
func (l *lattice) middle(c [3]int) r3.Vec {
	return r3.Vec{
		X: (float64(c[0]) + 0.5) * l.h[0],
		Y: (float64(c[1]) + 0.5) * l.h[1],
		Z: (float64(c[2]) + 0.5) * l.h[2],
	}
}

// cells returns the number of cells, ghosts not counted.
func (l *lattice) cells() int { return l.n[0] * l.n[1] * l.n[2] }

// volume returns the volume of a whole cell, m³.
func (l *lattice) volume() float64 { return l.h[0] * l.h[1] * l.h[2] }

// each calls f for every cell in the order of the arrays.
func (l *lattice) each(f func(index int, c [3]int)) {
	for k := range l.n[2] {
		for j := range l.n[1] {
			row := l.at(0, j, k)
			for i := range l.n[0] {
				f(row+i, [3]int{i, j, k})
			}
		}
	}
}

// eachGroup calls f for every group of cells in the order of the arrays, with its
// first cell and how many it has.
func (l *lattice) eachGroup(f func(first, count int)) {
	for k := range l.n[2] {
		for j := range l.n[1] {
			for i := 0; i < l.n[0]; i += lanes {
				f(l.at(i, j, k), min(lanes, l.n[0]-i))
			}
		}
	}
}

// meanSquare returns H², the mean of the squares of the cell sizes over axes that
// have more than one cell, m².
func (l *lattice) meanSquare() float64 {
	var sum, count float64
	for a := range 3 {
		if l.n[a] > 1 {
			sum += l.h[a] * l.h[a]
			count++
		}
	}
	if count == 0 {
		return l.h[0] * l.h[0]
	}
	return sum / count
}

// others returns the two axes beside a.
func others(a int) (b, c int) { return (a + 1) % 3, (a + 2) % 3 }
