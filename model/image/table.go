package image

import (
	"math"

	"evenbass/model"
)

// tables hold R_near^a R_far^b over cosθ for each axis and pair of hits, all
// bands side by side, to be interpolated linearly.
type tables struct {
	columns int // bands, or twice that if they are complex
	rows    [3][]row
}

// row is one pair of hits on one axis: values[i*columns+c] is column c at
// cosθ = i/nodes. There are two nodes more than needed at the upper end, for the
// interpolation at cosθ = 1 and for rounding above it.
type row struct {
	nodes  int
	values []float64
}

const (
	fewestNodes = 4
	mostNodes   = 1 << 14
)

// rowIndex returns where the pair of hits stands in a list of rows.
func rowIndex(near, far int) int {
	switch {
	case near > far:
		return 3*far + 1
	case far > near:
		return 3*near + 2
	}
	return 3 * near
}

// newTables tabulates every pair of hits that occurs within the length, each
// fine enough that linear interpolation is within tol.
func newTables(box *model.Box, b *bands, length, tol float64) *tables {
	t := &tables{columns: b.columns()}
	size := components(box.Size)
	for axis, extent := range size {
		most := int(length/extent) + 1
		t.rows[axis] = make([]row, 3*(most/2+1)+3)
		for n := -most; n <= most; n++ {
			near, far := hits(n)
			if r := &t.rows[axis][rowIndex(near, far)]; r.nodes == 0 {
				// An image after so many hits is at least this far off on the axis.
				off := max(float64(near+far-1), 0) * extent
				*r = newRow(t.columns, off/length, tol, func(dst []float64, cosine float64) {
					b.pairs(dst, axis, near, far, cosine)
				})
			}
		}
	}
	return t
}

// newRow halves the steps until the values at all midpoints above the least
// cosine are within tol of the straight line between their neighbours.
func newRow(columns int, least, tol float64, fill func(dst []float64, cosine float64)) row {
	r := row{nodes: fewestNodes}
	at := func(values []float64, i int) []float64 { return values[i*columns : (i+1)*columns] }
	r.values = make([]float64, (r.nodes+3)*columns)
	for i := range r.nodes + 1 {
		fill(at(r.values, i), float64(i)/float64(r.nodes))
	}
	for ok := false; !ok && r.nodes < mostNodes; {
		fine := make([]float64, (2*r.nodes+3)*columns)
		ok = true
		for i := range r.nodes {
			a, b, mid := at(r.values, i), at(r.values, i+1), at(fine, 2*i+1)
			copy(at(fine, 2*i), a)
			fill(mid, (float64(i)+0.5)/float64(r.nodes))
			if float64(i+1) < least*float64(r.nodes) {
				continue
			}
			for c := range mid {
				ok = ok && math.Abs(mid[c]-(a[c]+b[c])/2) <= tol
			}
		}
		copy(at(fine, 2*r.nodes), at(r.values, r.nodes))
		r.nodes, r.values = 2*r.nodes, fine
	}
	last := at(r.values, r.nodes)
	copy(at(r.values, r.nodes+1), last)
	copy(at(r.values, r.nodes+2), last)
	return r
}

// attach gives each image of the lattice its row.
func (t *tables) attach(l *lattice) {
	for axis := range l.axes {
		for i := range l.axes[axis] {
			a := &l.axes[axis][i]
			r := &t.rows[axis][rowIndex(a.near, a.far)]
			a.row, a.scale = r.values, a.dist*float64(r.nodes)
		}
	}
}

// columns returns the number of columns of a series or a table.
func (b *bands) columns() int {
	if b.real {
		return len(b.walls)
	}
	return 2 * len(b.walls)
}

// pairs fills dst with the reflection product of one axis in all bands.
func (b *bands) pairs(dst []float64, axis, near, far int, cosine float64) {
	for i := range b.walls {
		r := b.walls[i].pair(axis, near, far, cosine)
		if b.real {
			dst[i] = real(r)
		} else {
			dst[2*i], dst[2*i+1] = real(r), imag(r)
		}
	}
}
