//go:build unix

package image

import (
	"fmt"
	"syscall"
	"testing"
	"time"

	"evenbass/model"
)

// processorTime is what this process has used so far. The benchmarks report it per
// image, for wall-clock time also counts what others do on the machine.
func processorTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

var benchRooms = []struct {
	name  string
	walls [6]model.Boundary
}{
	{"real", each(0.05)},
	{"complex", each(0.05 + 0.05i)},
	{"real-bands", [6]model.Boundary{
		sloped{0.05, 0.04}, sloped{0.1, 0.04}, sloped{0.05, 0.04}, sloped{0.05, 0.04}, model.Plain(0.05), sloped{0.1, 0.05},
	}},
}

// BenchmarkTransfer is one place of a source, 223 frequencies.
func BenchmarkTransfer(b *testing.B) {
	for _, room := range benchRooms {
		for _, decay := range []model.Level{-30, -45, -60} {
			b.Run(fmt.Sprintf("%s/%.0fdB", room.name, float64(-decay)), func(b *testing.B) {
				box := model.Box{Size: roomT, Air: airT, Walls: room.walls}
				f := mustField(b, box, model.DefaultGrid(), Settings{Decay: decay}, seatT)
				n := images(f, sourceT)
				dst := f.Transfer(nil, sourceT)
				start := processorTime(b)
				for b.Loop() {
					f.Transfer(dst, sourceT)
				}
				used := float64(processorTime(b) - start)
				b.ReportMetric(used/float64(b.N)/float64(n), "cpu-ns/image")
				b.ReportMetric(used/float64(b.N)/1e3, "cpu-µs/op")
				b.ReportMetric(float64(n), "images")
				b.ReportMetric(float64(len(bandsOf(f.engine))), "bands")
			})
		}
	}
}

// BenchmarkNew is the set-up of a room.
func BenchmarkNew(b *testing.B) {
	for _, room := range benchRooms {
		b.Run(room.name, func(b *testing.B) {
			box := model.Box{Size: roomT, Air: airT, Walls: room.walls}
			for b.Loop() {
				if _, err := New(box, model.DefaultGrid(), Settings{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkField is the set-up of a seat.
func BenchmarkField(b *testing.B) {
	e, err := New(model.Box{Size: roomT, Air: airT, Walls: each(0.05)}, model.DefaultGrid(), Settings{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := e.Field(b.Context(), seatT); err != nil {
			b.Fatal(err)
		}
	}
}
