package mode

import (
	"testing"

	"evenbass/model"
)

func benchEngine(b *testing.B) *Engine {
	b.Helper()
	e, err := New(roomT(0, even(0.02+0.03i)...), model.DefaultGrid(), Settings{})
	if err != nil {
		b.Fatal(err)
	}
	return e
}

// One engine on the default grid of 223 frequencies: all axis modes.
func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		benchEngine(b)
	}
}

// The pairs of modes along x, once per engine and axis.
func BenchmarkPairs(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		e := benchEngine(b)
		b.StartTimer()
		e.pairsAlong(0)
	}
}

// One seat.
func BenchmarkField(b *testing.B) {
	e := benchEngine(b)
	for b.Loop() {
		if _, err := e.Field(seatT); err != nil {
			b.Fatal(err)
		}
	}
}

// One place at 223 frequencies, 2.5 m from the seat along x.
func BenchmarkTransfer(b *testing.B) {
	f, err := benchEngine(b).Field(seatT)
	if err != nil {
		b.Fatal(err)
	}
	dst := f.Transfer(nil, sourceT)
	for b.Loop() {
		f.Transfer(dst, sourceT)
	}
}
