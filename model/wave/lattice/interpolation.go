package lattice

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

// Weight is a cell with its share in an interpolation.
type Weight struct {
	Cell  int32
	Share float64
}

// Interpolation returns the cells that give the pressure at a place and their shares, in the order
// of the cells. top is the highest wavenumber of interest in 1/m. It uses whole cells of air only,
// and only those for which allowed is true (nil allows all). Near surfaces it moves the block of
// cells aside or makes it smaller. It returns false if there is no such block.
func (m *Medium) Interpolation(p r3.Vec, top float64, allowed []bool) ([]Weight, bool) {
	for _, width := range widths {
		if w, ok := m.blockAt(p, top, [3]int{width, width, width}, allowed); ok {
			return w, true
		}
	}
	return nil, false
}

// widths lists how many cells along an axis an interpolation takes: the first that fit.
var widths = [3]int{Widest, 2, 1}

// blockAt interpolates over a block of so many cells along each axis, or as many as the room has.
func (m *Medium) blockAt(p r3.Vec, top float64, size [3]int, allowed []bool) ([]Weight, bool) {
	var start [3]int
	x := scene.Components(p)
	for a := range x {
		if x[a] < 0 || x[a] > float64(m.N[a])*m.H[a] {
			return nil, false
		}
		size[a] = min(size[a], m.N[a])
		x[a] = x[a]/m.H[a] - 0.5 // in cells, from the centre of the first
		start[a] = int(math.Ceil(x[a] - float64(size[a])/2))
		start[a] = max(0, min(m.N[a]-size[a], start[a]))
	}
	start, ok := m.freeBlock(start, size, allowed)
	if !ok {
		return nil, false
	}
	var w [3][4]float64
	for a := range w {
		weights(w[a][:size[a]], x[a]-float64(start[a]), top*m.H[a])
	}
	var list []Weight
	for k := range size[2] {
		for j := range size[1] {
			for i := range size[0] {
				cell := m.At(start[0]+i, start[1]+j, start[2]+k)
				list = append(list, Weight{int32(cell), w[0][i] * w[1][j] * w[2][k]})
			}
		}
	}
	return list, true
}

// freeBlock moves a block by up to two cells on each axis until all its cells may be used. The
// shortest move wins.
func (m *Medium) freeBlock(start, size [3]int, allowed []bool) ([3]int, bool) {
	for _, d := range shifts {
		at := [3]int{start[0] + d[0], start[1] + d[1], start[2] + d[2]}
		if m.free(at, size, allowed) {
			return at, true
		}
	}
	return start, false
}

// shifts lists the moves of freeBlock, shortest first.
var shifts = func() [][3]int {
	var list [][3]int
	for i := -2; i <= 2; i++ {
		for j := -2; j <= 2; j++ {
			for k := -2; k <= 2; k++ {
				list = append(list, [3]int{i, j, k})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b [3]int) int {
		return cmp.Compare(a[0]*a[0]+a[1]*a[1]+a[2]*a[2], b[0]*b[0]+b[1]*b[1]+b[2]*b[2])
	})
	return list
}()

// free reports whether all cells of a block are whole cells of air that may be used.
func (m *Medium) free(at, size [3]int, allowed []bool) bool {
	for a := range at {
		if at[a] < 0 || at[a]+size[a] > m.N[a] {
			return false
		}
	}
	for k := range size[2] {
		for j := range size[1] {
			row := m.At(at[0], at[1]+j, at[2]+k)
			for i := row; i < row+size[0]; i++ {
				if !m.Whole(i) || allowed != nil && !allowed[i] {
					return false
				}
			}
		}
	}
	return true
}

// Within lists the cells with air that interpolations in the given zones may use, in order. No zones mean
// every cell.
func (m *Medium) Within(zones []model.Block) []int32 {
	return slices.DeleteFunc(m.Cells.Within(zones), func(i int32) bool { return m.volume[i] == 0 })
}

// Within lists the cells that interpolations in the given zones may use if there is air, in order. No zones
// mean every cell.
func (l *Cells) Within(zones []model.Block) []int32 {
	reaches := []reach{{last: [3]int{l.N[0] - 1, l.N[1] - 1, l.N[2] - 1}}}
	if len(zones) > 0 {
		reaches = reaches[:0]
	}
	for _, z := range zones {
		reaches = append(reaches, l.reach(z))
	}
	var list []int32
	inside := make([]bool, l.N[0]) // of one row
	for k := range l.N[2] {
		for j := range l.N[1] {
			clear(inside)
			for _, r := range reaches {
				if r.first[1] > j || j > r.last[1] || r.first[2] > k || k > r.last[2] {
					continue
				}
				for i := r.first[0]; i <= r.last[0]; i++ {
					inside[i] = true
				}
			}
			row := l.At(0, j, k)
			for i, in := range inside {
				if in {
					list = append(list, int32(row+i))
				}
			}
		}
	}
	return list
}

// reach is the cells first..last on each axis.
type reach struct{ first, last [3]int }

// reach returns the cells that interpolations in a zone may use.
func (l *Cells) reach(z model.Block) (r reach) {
	const margin = 2 // cells on each side
	low, high := scene.Components(z.Min), scene.Components(z.Max)
	for a := range 3 {
		// Against a wall the block of four moves inwards.
		from := min(low[a]/l.H[a]-margin, float64(l.N[a])-Widest)
		to := max(high[a]/l.H[a]+margin, Widest)
		r.first[a] = max(0, int(math.Ceil(from-0.5)))
		r.last[a] = min(l.N[a]-1, int(math.Floor(to-0.5)))
	}
	return r
}
