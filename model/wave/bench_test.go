package wave

import (
	"fmt"
	"syscall"
	"testing"

	"evenbass/model"
	"evenbass/model/material/fit"

	"gonum.org/v1/gonum/spatial/r3"
)

// benchRun marches a scene in cells of a size in m, 0 for the usual, and reports the time
// per cell and step.
func benchRun(b *testing.B, s Scene, cell float64, vectors bool) {
	e, err := New(s, model.DefaultGrid(), Settings{Cell: cell, Zones: around(r3.Vec{X: 1, Y: 1, Z: 1})})
	if err != nil {
		b.Fatal(err)
	}
	e.system = newSystem(e.medium, e.system.step, vectors)
	cells, _ := e.medium.stencilAt(r3.Vec{X: 2, Y: 1, Z: 1}, e.top(), nil)
	q := e.request(cells)
	q.Cells = q.Cells[:1]
	r := e.system.newRun(e.blocks, q)
	r.limit = 200
	n := 0
	before := cpuTime()
	for b.Loop() {
		r.frames, r.energy = nil, nil
		if err := r.march(b.Context()); err != nil {
			b.Fatal(err)
		}
		n += r.limit
	}
	each := float64(n) * float64(e.medium.cells())
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
// but walls that yield as real ones do, on one goroutine by the quicker kernel.
func BenchmarkMarch(b *testing.B) {
	treated, _ := treatedRoom()
	bare := Scene{Size: treated.Size, Air: treated.Air}
	for _, room := range []struct {
		name  string
		scene Scene
	}{{"air", bare}, {"treated", treated}} {
		for _, vectors := range []bool{false, true} {
			if vectors && !hasVectors() {
				continue
			}
			b.Run(fmt.Sprintf("%s/vectors=%v", room.name, vectors), func(b *testing.B) {
				benchRun(b, room.scene, 0, vectors)
			})
		}
	}
	for _, cell := range []float64{0.1, 0.167} {
		b.Run(fmt.Sprintf("walls/cell=%v", cell), func(b *testing.B) {
			benchRun(b, walledRoom(), cell, hasVectors())
		})
	}
}

// walledRoom is a box of 4.31 x 3.28 x 2.45 m with walls as a fit of the library's
// constructions gives them, rounded: brick in front and on the left, plasterboard on studs
// behind and on the right, a floor of timber, a ceiling of plasterboard.
func walledRoom() Scene {
	air := model.AirAt(0)
	brick := []fit.Branch{{Mass: 0.4, Resistance: 150e3, Stiffness: 7.2e6}}
	board := []fit.Branch{
		{Mass: 9.1, Resistance: 9e3, Stiffness: 2.9e6}, {Mass: 56, Resistance: 30e3, Stiffness: 1e-5},
		{Mass: 2.5e-10, Resistance: 0.005, Stiffness: 2e7}, {Mass: 201, Resistance: 0.04, Stiffness: 0.002},
		{Mass: 233, Resistance: 0.05, Stiffness: 0.003},
	}
	floor := []fit.Branch{
		{Mass: 208, Resistance: 44e3, Stiffness: 13e6}, {Mass: 14, Resistance: 21e3, Stiffness: 5.8e6},
		{Mass: 177, Resistance: 8.4e3, Stiffness: 440e3}, {Mass: 3e-8, Resistance: 9.5e3, Stiffness: 45e6},
	}
	ceiling := []fit.Branch{
		{Resistance: 32e3, Stiffness: 1e-4}, {Mass: 1111, Resistance: 93e3, Stiffness: 68e6},
		{Mass: 237, Resistance: 49e3, Stiffness: 27e6}, {Mass: 19, Resistance: 25e3, Stiffness: 10e6},
	}
	s := Scene{Size: r3.Vec{X: 4.31, Y: 3.28, Z: 2.45}, Air: air}
	for f, list := range map[model.Face][]fit.Branch{
		model.Front: brick, model.Back: board, model.Left: brick, model.Right: board, model.Floor: floor, model.Ceiling: ceiling,
	} {
		s.Walls[f] = fit.Branches{Air: air, List: list}
	}
	return s
}

// treatedRoom is a room of 4.7 x 3.4 x 2.45 m with plasterboard walls and 200 mm
// of wool behind a film on the back wall, and the zone where speakers may stand.
func treatedRoom() (Scene, Settings) {
	air := model.AirAt(0)
	s := Scene{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: air}
	for i := range s.Walls {
		s.Walls[i] = fit.Branches{Air: air, List: []fit.Branch{
			{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 12e3},
		}}
	}
	from := r3.Vec{X: 4.5, Y: 0.2, Z: 0.2}
	s.Porous = []Porous{{Min: from, Max: r3.Vec{X: 4.7, Y: 3.2, Z: 2.2}, PorousVolume: wool(air, 6e3)}}
	s.Films = []Film{{Min: from, Max: r3.Vec{X: 4.5, Y: 3.2, Z: 2.2}, SurfaceMass: 0.1}}
	return s, Settings{Zones: []model.Block{{Min: r3.Vec{X: 0.3, Y: 0.3, Z: 0.9}, Max: r3.Vec{X: 1.5, Y: 3.1, Z: 1.1}}}}
}

// BenchmarkField is one run of a treated room, drawing and transform included.
func BenchmarkField(b *testing.B) {
	scene, settings := treatedRoom()
	var f *Field
	before := cpuTime()
	for b.Loop() {
		e, err := New(scene, model.DefaultGrid(), settings)
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
	scene, settings := treatedRoom()
	settings.Longest = 0.3
	e, err := New(scene, model.DefaultGrid(), settings)
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
