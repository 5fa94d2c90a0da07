package uncertainty

import (
	"context"
	"fmt"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// trialEngine is the engine of one trial.
type trialEngine struct {
	*Sensitivity
	trial Trial
	air   model.Air
	size  r3.Vec
	grid  model.Grid
	gain  complex128
	moved []model.Layout
}

func (e *trialEngine) Info() model.EngineInfo    { return e.info }
func (e *trialEngine) Grid() model.Grid          { return e.grid }
func (e *trialEngine) Air() model.Air            { return e.air }
func (e *trialEngine) Warnings() []model.Warning { return nil }

// Field implements [model.Engine].
func (e *trialEngine) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	return trialField{e, seat}, nil
}

type trialField struct {
	*trialEngine
	seat r3.Vec
}

// Transfer implements [model.Field].
func (f trialField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, len(f.grid))
	for i, l := range f.moved {
		as := f.layouts[i]
		for _, m := range [][2]r3.Vec{{l.Left, as.Left}, {l.Right, as.Right}} {
			if m[0] == source && f.Fill(dst, i, m[0], m[1]) {
				return dst
			}
		}
	}
	panic(fmt.Sprintf("uncertainty: seat %v and source %v are not of this trial", f.seat, source))
}

// Fill fills in the transfer from a speaker of layout i, moved from its mark, and reports
// whether the field's seat belongs to that layout.
func (f trialField) Fill(dst []complex128, i int, moved, mark r3.Vec) bool {
	seat := f.layouts[i].Seat
	if f.seat == f.moved[i].Seat {
		f.fillMoved(dst, i, moved, mark)
	} else {
		k := slices.IndexFunc(f.others, func(o otherSeat) bool { return o.at == f.seat })
		if k < 0 {
			return false
		}
		seat = f.others[k].at
		f.others[k].field.Transfer(dst, moved)
	}
	f.changes[path{seat, mark}].add(dst, &f.trial)
	for i := range dst {
		dst[i] *= f.gain
	}
	return true
}

// fillMoved moves the speaker, then the seat, and adds up the changes.
func (f trialField) fillMoved(dst []complex128, i int, moved, mark r3.Vec) {
	at, err := f.near[i].Field(context.Background(), f.layouts[i].Seat)
	off, other := f.near[i].Field(context.Background(), f.seat)
	if err != nil || other != nil {
		panic(fmt.Sprintf("uncertainty: no field about %v: %v, %v", f.seat, err, other))
	}
	at.Transfer(dst, moved)
	from := at.Transfer(nil, mark)
	for k, v := range off.Transfer(nil, mark) {
		dst[k] += v - from[k]
	}
}
