package solver

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/lattice"
)

// rows says what each row of a field's values holds: a cell of the record or, where places lie at few
// heights, a column of a plane.
type rows struct {
	medium *lattice.Medium
	top    float64 // highest wavenumber, 1/m
	count  int

	planes  []plane // nil: row by row the cells of the record
	record  []int32
	allowed []bool  // by cell: whether it was recorded
	row     []int32 // by cell
}

// newRows returns the rows for the places in some zones.
func newRows(m *lattice.Medium, zones []model.Block, record []int32, top float64) *rows {
	r := &rows{medium: m, top: top, count: len(record), record: record}
	if r.planes = planesOf(m, zones, record, top); r.planes != nil {
		r.count = 0
		for _, l := range r.planes {
			r.count += len(l.columns)
		}
		return r
	}
	r.allowed, r.row = make([]bool, m.Size), make([]int32, m.Size)
	for row, cell := range record {
		r.allowed[cell], r.row[cell] = true, int32(row)
	}
	return r
}

// at returns the rows that give the answer for a place, with their shares, or false if there is none.
func (r *rows) at(place r3.Vec) (list []lattice.Weight, ok bool) {
	row := r.row
	if r.planes == nil {
		list, ok = r.medium.Interpolation(place, r.top, r.allowed)
	} else if l := planeAt(r.planes, place.Z); l != nil {
		place.Z, row = l.height, l.row
		list, ok = r.medium.Across(place, r.top, l.usable)
	}
	for i := range list {
		list[i].Cell = row[list[i].Cell]
	}
	return list, ok
}

// within returns where each of these rows is among those of another, or false if one is not.
func (r *rows) within(other *rows) (list []int32, ok bool) {
	if r.planes == nil {
		if other.planes != nil {
			return nil, false
		}
		return found(r.record, other.allowed, other.row)
	}
	for _, l := range r.planes {
		o := planeAt(other.planes, l.height)
		if o == nil {
			return nil, false
		}
		part, ok := found(l.columns, o.usable, o.row)
		if !ok {
			return nil, false
		}
		list = append(list, part...)
	}
	return list, true
}

// found returns the rows of cells, or false unless all of them are there.
func found(cells []int32, there []bool, row []int32) (list []int32, ok bool) {
	for _, c := range cells {
		if !there[c] {
			return nil, false
		}
		list = append(list, row[c])
	}
	return list, true
}
