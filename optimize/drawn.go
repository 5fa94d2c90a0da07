package optimize

import (
	"fmt"
	"slices"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// drawnEngine answers for one draw.
type drawnEngine struct {
	*Sensitivity
	draw  Draw
	air   model.Air
	size  r3.Vec
	grid  model.Grid
	gain  complex128
	moved []model.Layout
}

func (e *drawnEngine) Name() string              { return "drawn" }
func (e *drawnEngine) Grid() model.Grid          { return e.grid }
func (e *drawnEngine) Air() model.Air            { return e.air }
func (e *drawnEngine) Warnings() []model.Warning { return nil }

// Field implements [model.Engine].
func (e *drawnEngine) Field(seat r3.Vec) (model.Field, error) { return drawnField{e, seat}, nil }

type drawnField struct {
	*drawnEngine
	seat r3.Vec
}

// Transfer implements [model.Field].
func (f drawnField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, len(f.grid))
	for i, l := range f.moved {
		as := f.layouts[i]
		for _, m := range [][2]r3.Vec{{l.Left, as.Left}, {l.Right, as.Right}} {
			if m[0] == source && f.reach(dst, i, m[0], m[1]) {
				return dst
			}
		}
	}
	panic(fmt.Sprintf("optimize: seat %v and source %v are not of this draw", f.seat, source))
}

// reach fills in the transfer from a speaker of layout i, moved from its mark, if the
// seat is one that hears it.
func (f drawnField) reach(dst []complex128, i int, moved, mark r3.Vec) bool {
	seat := f.layouts[i].Seat
	if f.seat == f.moved[i].Seat {
		f.both(dst, i, moved, mark)
	} else {
		k := slices.IndexFunc(f.heads, func(h head) bool { return h.at == f.seat })
		if k < 0 {
			return false
		}
		seat = f.heads[k].at
		f.heads[k].field.Transfer(dst, moved)
	}
	f.changes[path{seat, mark}].add(dst, &f.draw)
	for i := range dst {
		dst[i] *= f.gain
	}
	return true
}

// both moves the speaker, then the head, and adds up what either changes.
func (f drawnField) both(dst []complex128, i int, moved, mark r3.Vec) {
	at, err := f.near[i].Field(f.layouts[i].Seat)
	off, other := f.near[i].Field(f.seat)
	if err != nil || other != nil {
		panic(fmt.Sprintf("optimize: no field about %v: %v, %v", f.seat, err, other))
	}
	at.Transfer(dst, moved)
	from := at.Transfer(nil, mark)
	for k, v := range off.Transfer(nil, mark) {
		dst[k] += v - from[k]
	}
}
