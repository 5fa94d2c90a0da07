package mode

import (
	"fmt"
	"math"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
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
		if _, err := e.Field(b.Context(), seatT); err != nil {
			b.Fatal(err)
		}
	}
}

// One place at 223 frequencies, 2.5 m from the seat along x: in turn one that shares no coordinate
// with those before, and one beside it, as the other speaker stands.
func BenchmarkTransfer(b *testing.B) {
	f, err := benchEngine(b).Field(b.Context(), seatT)
	if err != nil {
		b.Fatal(err)
	}
	dst, at := f.Transfer(nil, sourceT), sourceT
	for _, beside := range []bool{false, true} {
		b.Run(fmt.Sprintf("beside=%v", beside), func(b *testing.B) {
			for b.Loop() {
				at.Y += 1e-7
				if !beside {
					at.X, at.Z = at.X+1e-7, at.Z+1e-7
				}
				f.Transfer(dst, at)
			}
		})
	}
}

// 12 x 17 x 2 places in front of one seat after another, per place.
func BenchmarkTransferGrid(b *testing.B) {
	e, seat := benchEngine(b), r3.Vec{X: 3.1, Y: 2, Z: 1.2}
	xs, ys, zs := chebyshev(0.3, 2.2, 12), chebyshev(0.3, 3.7, 17), []float64{0.9, 1.1}
	dst := make([]complex128, 12*17*2*len(e.Grid()))
	for b.Loop() {
		seat.X += 1e-7
		f, err := e.Field(b.Context(), seat)
		if err != nil {
			b.Fatal(err)
		}
		f.(*Field).TransferGrid(dst, xs, ys, zs)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/(12*17*2), "ns/place")
}

func chebyshev(lo, hi float64, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = (lo+hi)/2 - (hi-lo)/2*math.Cos(math.Pi*(float64(i)+0.5)/float64(n))
	}
	return x
}

// All modes of the 5 x 4 x 2.5 m room up to 300 Hz, walls of one admittance.
func BenchmarkList(b *testing.B) {
	box := roomT(0, even(0.03)...)
	for b.Loop() {
		List(box, 300)
	}
}
