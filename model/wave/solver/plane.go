package solver

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/wave/lattice"
)

// plane is the part of a record that answers for places at one height. Of the four layers of cells
// that an interpolation to that height takes, it keeps one sum: a quarter of the memory.
type plane struct {
	height  float64   // m
	lowest  int       // layer
	shares  []float64 // of the layers
	columns []int32   // by column: its lowest cell
	cells   [][]int32 // by layer and column: position in the record
	row     []int32   // by cell: row of the column that it is the lowest cell of, among those of all planes
	usable  []bool    // by cell: it belongs to a column
}

// sameHeight is the largest difference of two heights that count as one, m.
const sameHeight = 1e-3

// planesOf returns the planes of a record if each of the zones lies at one height, the planes take less
// than half of the record and none misses places, or else nil: then each cell is kept.
func planesOf(m *lattice.Medium, zones []model.Block, record []int32, top float64) []plane {
	var list []plane
	rows := 0
	for _, z := range zones {
		if z.Min.Z != z.Max.Z {
			return nil
		}
		if planeAt(list, z.Min.Z) != nil {
			continue
		}
		level := alike(zones, z.Min.Z)
		l := newPlane(m, level, record, top, rows)
		if l.misses(m, level) {
			return nil
		}
		list, rows = append(list, l), rows+len(l.columns)
	}
	if len(list) == 0 || 2*rows > len(record) {
		return nil
	}
	return list
}

// alike returns those of some zones that begin at a height in m.
func alike(zones []model.Block, height float64) []model.Block {
	return slices.DeleteFunc(slices.Clone(zones), func(z model.Block) bool { return math.Abs(z.Min.Z-height) >= sameHeight })
}

// newPlane returns the plane of zones that lie at one height, with its rows from the first on.
func newPlane(m *lattice.Medium, zones []model.Block, record []int32, top float64, first int) plane {
	l := plane{height: zones[0].Min.Z, row: make([]int32, m.Size), usable: make([]bool, m.Size)}
	l.lowest, l.shares = m.Layers(l.height, top, lattice.Widest)
	l.cells = make([][]int32, len(l.shares))
	within := make([]bool, m.Size)
	for _, c := range m.Within(zones) {
		within[c] = m.Whole(int(c))
	}
	for j := range m.N[1] {
		for i := range m.N[0] {
			column := make([]int, len(l.shares))
			whole := true
			for k := range column {
				column[k] = m.At(i, j, l.lowest+k)
				whole = whole && within[column[k]]
			}
			if !whole {
				continue
			}
			l.row[column[0]] = int32(first + len(l.columns))
			l.columns = append(l.columns, int32(column[0]))
			for k, cell := range column {
				at, _ := slices.BinarySearch(record, int32(cell))
				l.cells[k], l.usable[cell] = append(l.cells[k], int32(at)), true
			}
		}
	}
	return l
}

// misses reports whether there are places in the zones, such as above a desk or under a slope, where only a
// block that is less high finds whole cells of air.
func (l *plane) misses(m *lattice.Medium, zones []model.Block) bool {
	low, shares := m.Layers(l.height, 0, 2)
	for j := range m.N[1] {
		for i := range m.N[0] {
			x, y := (float64(i)+0.5)*m.H[0], (float64(j)+0.5)*m.H[1]
			near := func(z model.Block) bool {
				return x > z.Min.X-m.H[0] && x < z.Max.X+m.H[0] && y > z.Min.Y-m.H[1] && y < z.Max.Y+m.H[1]
			}
			whole := true
			for k := range shares {
				whole = whole && m.Whole(m.At(i, j, low+k))
			}
			if whole && !l.usable[m.At(i, j, l.lowest)] && slices.ContainsFunc(zones, near) {
				return true
			}
		}
	}
	return false
}

// planeAt returns the plane of a height in m, or nil.
func planeAt(planes []plane, height float64) *plane {
	for i := range planes {
		if math.Abs(planes[i].height-height) < sameHeight {
			return &planes[i]
		}
	}
	return nil
}

// nearestHeight returns the height of the plane nearest to one in m, or that itself without planes.
func nearestHeight(planes []plane, height float64) float64 {
	nearest := math.Inf(1)
	for _, l := range planes {
		if math.Abs(l.height-height) < math.Abs(nearest-height) {
			nearest = l.height
		}
	}
	if math.IsInf(nearest, 1) {
		return height
	}
	return nearest
}

// fold replaces each frame of a record by the columns of all planes.
func fold(planes []plane, frames [][]float32) {
	var sums []float32
	for n, frame := range frames {
		sums = sums[:0]
		for _, l := range planes {
			for c := range l.columns {
				var sum float32
				for k, cells := range l.cells {
					sum += float32(l.shares[k]) * frame[cells[c]]
				}
				sums = append(sums, sum)
			}
		}
		frames[n] = frame[:copy(frame, sums)]
	}
}
