package solver

import (
	"syscall"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/wavetest"
)

// cpuTime returns the processor time of the process in ns: on a busy machine it
// says more than the clock.
func cpuTime() int64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return u.Utime.Nano() + u.Stime.Nano()
}

// BenchmarkField is one run of a treated room, drawing and transform included.
func BenchmarkField(b *testing.B) {
	scene, zones := wavetest.TreatedRoom()
	var f *Field
	before := cpuTime()
	for b.Loop() {
		e, err := New(scene, model.DefaultGrid(), Settings{Zones: zones})
		if err != nil {
			b.Fatal(err)
		}
		if f, err = e.Run(b.Context(), r3.Vec{X: 2.9, Y: 1.7, Z: 1.2}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(f.Seconds(), "room-s")
	b.ReportMetric(float64(cpuTime()-before)/1e9/float64(b.N), "cpu-s/op")
}

// BenchmarkTransfer is one place at all frequencies.
func BenchmarkTransfer(b *testing.B) {
	scene, zones := wavetest.TreatedRoom()
	e, err := New(scene, model.DefaultGrid(), Settings{Zones: zones, Longest: 0.3})
	if err != nil {
		b.Fatal(err)
	}
	f, err := e.Run(b.Context(), r3.Vec{X: 2.9, Y: 1.7, Z: 1.2})
	if err != nil {
		b.Fatal(err)
	}
	dst := make([]complex128, len(e.grid))
	for b.Loop() {
		f.Transfer(dst, r3.Vec{X: 0.83, Y: 1.07, Z: 1.02})
	}
}
