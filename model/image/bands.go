package image

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"evenbass/model"
)

// bands are the control frequencies at which the walls are sampled. Between two
// of them the amplitude of an image is interpolated on log f, so that each band
// has a triangular weight and all weights add up to one.
type bands struct {
	controls []float64 // Hz, ascending
	list     []band    // the one with the longest paths first
	real     bool      // no wall has an imaginary part at any control
}

// band is what belongs to one control frequency.
type band struct {
	control int // its index
	walls   walls
	length  float64 // m; longer paths are left out
}

// newBands chooses as few controls as keep the error of the interpolated
// amplitudes below tol, or all frequencies of the grid if tol is 0. Walls that do
// not change need one.
func newBands(box *model.Box, grid model.Grid, length, tol float64) *bands {
	at := make([]walls, len(grid))
	same := true
	for i, f := range grid {
		at[i] = wallsAt(box, f)
		same = same && at[i] == at[0]
	}
	chosen := []int{0}
	switch {
	case same:
	case tol == 0:
		chosen = chosen[:0]
		for i := range grid {
			chosen = append(chosen, i)
		}
	default:
		p := newProbes(box, at, length)
		chosen = append(p.split(nil, grid, 0, len(grid)-1, tol), len(grid)-1)
	}
	b := &bands{real: true}
	for i, c := range chosen {
		b.controls = append(b.controls, grid[c])
		b.list = append(b.list, band{control: i, walls: at[c], length: length})
		b.real = b.real && at[c].real()
	}
	return b
}

// limit gives each band the length that it needs, and puts the longest first.
func (b *bands) limit(lengths []float64) {
	for i := range b.list {
		b.list[i].length = lengths[b.list[i].control]
	}
	slices.SortStableFunc(b.list, func(p, q band) int { return cmp.Compare(q.length, p.length) })
}

// reaching returns how many of the bands have paths longer than the given length.
func (b *bands) reaching(length float64) int {
	return sort.Search(len(b.list), func(i int) bool { return b.list[i].length < length })
}

// weight returns the weight of control b at frequency f.
func (b *bands) weight(control int, f float64) float64 {
	c := b.controls
	if len(c) == 1 {
		return 1
	}
	f = min(max(f, c[0]), c[len(c)-1])
	i := min(max(sort.SearchFloat64s(c, f), 1), len(c)-1)
	upper := math.Log(f/c[i-1]) / math.Log(c[i]/c[i-1])
	switch control {
	case i:
		return upper
	case i - 1:
		return 1 - upper
	}
	return 0
}

// probes are the amplitudes of some typical paths at every frequency: along the
// axes, between two and between all three, of several lengths.
type probes [][]complex128 // [path][frequency]

func newProbes(box *model.Box, at []walls, length float64) probes {
	size := components(box.Size)
	var p probes
	for _, d := range [7][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}} {
		norm := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		for _, part := range [3]float64{1. / 16, 1. / 6, 1. / 3} {
			path := make([]complex128, len(at))
			for i := range at {
				path[i] = 1
				for axis := range d {
					if c := d[axis] / norm; c > 0 {
						n := int(math.Ceil(part * length * c / (2 * size[axis])))
						path[i] *= at[i].pair(axis, n, n, c)
					}
				}
			}
			p = append(p, path)
		}
	}
	return p
}

// split appends to dst the controls from frequency lo up to but without hi.
func (p probes) split(dst []int, grid model.Grid, lo, hi int, tol float64) []int {
	if hi-lo < 2 || p.straight(grid, lo, hi, tol) {
		return append(dst, lo)
	}
	mid := grid[:hi].Nearest(math.Sqrt(grid[lo] * grid[hi]))
	mid = min(max(mid, lo+1), hi-1)
	dst = p.split(dst, grid, lo, mid, tol)
	return p.split(dst, grid, mid, hi, tol)
}

// straight reports whether every path between lo and hi is within tol of the
// straight line over log f.
func (p probes) straight(grid model.Grid, lo, hi int, tol float64) bool {
	span := math.Log(grid[hi] / grid[lo])
	for i := lo + 1; i < hi; i++ {
		u := complex(math.Log(grid[i]/grid[lo])/span, 0)
		for _, path := range p {
			e := path[i] - path[lo] - u*(path[hi]-path[lo])
			if math.Hypot(real(e), imag(e)) > tol {
				return false
			}
		}
	}
	return true
}
