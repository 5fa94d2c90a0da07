package march

import (
	"fmt"
	"syscall"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// benchRun marches a scene in cells of a size in m and reports the time
// per cell and step.
func benchRun(b *testing.B, s scene.Scene, cell float64, vectors bool) {
	y := New(lattice.New(&s, cell), vectors)
	source, _ := y.Interpolation(r3.Vec{X: 2, Y: 1, Z: 1}, 6, nil)
	r := y.newRun(new(Blocks), Request{
		Source: source, Cells: y.Within(wavetest.Around(r3.Vec{X: 1, Y: 1, Z: 1}))[:1], Lowest: 20, Highest: 315, Fall: 300, Longest: 1,
	})
	r.limit = 200
	n := 0
	before := cpuTime()
	for b.Loop() {
		r.Frames, r.energy = nil, nil
		if err := r.march(b.Context()); err != nil {
			b.Fatal(err)
		}
		n += r.limit
	}
	each := float64(n) * float64(y.Count())
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/each, "ns/cell/step")
	b.ReportMetric(float64(cpuTime()-before)/each, "cpu-ns/cell/step")
}

// cpuTime returns the processor time of the process in ns: on a busy machine it
// says more than the clock.
func cpuTime() int64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return u.Utime.Nano() + u.Stime.Nano()
}

// BenchmarkMarch is the march alone: a room of some 40,000 cells of air between rigid
// walls, the same with treatment and walls of two branches, and a room with nothing in it
// but walls that move as real ones do, by the quicker kernel.
func BenchmarkMarch(b *testing.B) {
	treated, _ := wavetest.TreatedRoom()
	bare := scene.Scene{Size: treated.Size, Air: treated.Air}
	for _, room := range []struct {
		name  string
		scene scene.Scene
	}{{"air", bare}, {"treated", treated}} {
		for _, vectors := range []bool{false, true} {
			if vectors && !vector.Available() {
				continue
			}
			b.Run(fmt.Sprintf("%s/vectors=%v", room.name, vectors), func(b *testing.B) {
				benchRun(b, room.scene, 0.1, vectors)
			})
		}
	}
	for _, cell := range []float64{0.1, 0.167} {
		b.Run(fmt.Sprintf("walls/cell=%v", cell), func(b *testing.B) {
			benchRun(b, wavetest.WalledRoom(), cell, vector.Available())
		})
	}
}
