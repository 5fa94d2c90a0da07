package wave

import (
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave/wavetest"
)

// What the speakers' runs give over another grid is, by reciprocity, what a run from the seat gives over it.
// It is there once the layout was asked for, and only within the room's frequencies.
func TestKeptAgreesWithRunOfItsOwn(t *testing.T) {
	t.Parallel()
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 0.7, Z: 1}, Right: r3.Vec{X: 0.7, Y: 1.7, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.2, Z: 1.2}}
	grid, marks := model.NewGrid(30, 150, 12, 0), model.Grid{30, 41.3, 41.8, 77, 149.5}
	room := func(marks model.Grid) *Room {
		e, err := NewRoom(wavetest.Study(), material.Typical, grid, Settings{Cell: 0.2, MarkGrid: marks})
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	e, beyond := room(marks), room(model.Grid{30, 151})
	if _, _, ok := e.Kept(l); ok {
		t.Error("transfers are kept before the layout was asked for")
	}
	for _, r := range []*Room{e, beyond} {
		if _, err := r.Near(t.Context(), l); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, ok := beyond.Kept(l); ok {
		t.Error("transfers are kept beyond the room's frequencies")
	}
	left, right, ok := e.Kept(l)
	if !ok {
		t.Fatal("nothing is kept")
	}
	other, err := e.On(marks, nil)
	if err != nil {
		t.Fatal(err)
	}
	own, err := other.Field(t.Context(), l.Seat)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		got  []complex128
		from r3.Vec
	}{{left, l.Left}, {right, l.Right}} {
		for i, want := range own.Transfer(nil, c.from) {
			if off := cmplx.Abs(c.got[i]-want) / cmplx.Abs(want); off > 2e-3 {
				t.Errorf("from %v at %v Hz: off by %.1e of the transfer", c.from, marks[i], off)
			}
		}
	}
}
