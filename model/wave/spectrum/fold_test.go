package spectrum

import (
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"evenbass/model"
)

// records returns random records of cells, by time.
func records(rng *rand.Rand, length, cells int) [][]float32 {
	frames := make([][]float32, length)
	for n := range frames {
		for range cells {
			frames[n] = append(frames[n], float32(rng.NormFloat64()))
		}
	}
	return frames
}

// The folded sums against the sum as it is defined, in double precision: records of even
// and odd length, groups that are full and that are not, phases that fill no block.
func TestFolder(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct{ length, cells, phases int }{{1, 1, 1}, {2, 3, 4}, {7, 16, 5}, {300, 37, 42}, {1023, 16, 9}} {
		var phases []complex128
		for range c.phases {
			phases = append(phases, complex(rng.Float64()*math.Pi, 0))
		}
		frames, end := records(rng, c.length, c.cells), taper(c.length)
		f := newFolder(phases, end)
		d := f.newWorkspace()
		for first := 0; first < c.cells; first += groupCells {
			count := min(groupCells, c.cells-first)
			f.fold(d, frames, first, count)
			seen := 0
			f.spectra(d, count, func(cell, phase int, got complex128) {
				seen++
				var want complex128
				for n, frame := range frames {
					want += complex(float64(frame[first+cell]*end[n]), 0) * cmplx.Exp(-1i*phases[phase]*complex(float64(n), 0))
				}
				if cmplx.Abs(got-want) > 4e-6*math.Sqrt(float64(c.length)) {
					t.Errorf("%+v, cell %d, phase %v: %v, want %v", c, first+cell, phases[phase], got, want)
				}
			})
			if seen != count*c.phases {
				t.Errorf("%+v: %d sums, want %d", c, seen, count*c.phases)
			}
		}
	}
}

// The kernel of this build against plain Go.
func TestGroupSumsAgree(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	for _, rows := range []int{0, 1, 2, 501} {
		group, block := records(rng, 1, rows*groupCells)[0], records(rng, 1, rows*blockPhases)[0]
		var got, want [blockPhases][groupCells]float32
		got[1][2] = 9 // what was there goes
		groupSums(&got, group, block)
		portableGroupSums(&want, group, block)
		for p := range want {
			for i := range want[p] {
				if d := math.Abs(float64(got[p][i] - want[p][i])); d > 1e-6*float64(rows) {
					t.Errorf("%d rows, phase %d, cell %d: %v, want %v", rows, p, i, got[p][i], want[p][i])
				}
			}
		}
	}
}

// A transform that is cancelled leaves off before the next cell, with and without losses.
func TestTransformStops(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	frames := records(rand.New(rand.NewPCG(7, 8)), 50, 20)
	for _, phase := range []complex128{0.3, complex(0.3, -0.01)} {
		got, stopped := Transform(t.Context(), frames, []complex128{phase}, []complex128{1}), Transform(ctx, frames, []complex128{phase}, []complex128{1})
		for i := range stopped {
			if stopped[i] != 0 || got[i] == 0 {
				t.Fatalf("phase %v, cell %d: %v, and %v where it was cancelled", phase, i, got[i], stopped[i])
			}
		}
	}
}

// BenchmarkTransform turns a record of 1.2 s at 1.1 kHz into the usual frequencies, cell by
// cell by a fast transform and group by group by folded sums.
func BenchmarkTransform(b *testing.B) {
	grid := model.DefaultGrid()
	var phases []complex128
	for _, f := range grid {
		phases = append(phases, complex(2*math.Pi*f/1100, 0))
	}
	frames := records(rand.New(rand.NewPCG(1, 2)), 1320, 64)
	perCell := func(b *testing.B) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(frames[0])), "ns/cell")
	}
	for _, way := range []string{"fast transform", "folded sums"} {
		b.Run(way, func(b *testing.B) {
			values := make([]complex64, len(frames[0])*len(grid))
			gain := make([]complex128, len(grid))
			for b.Loop() {
				if way == "folded sums" {
					fold(b.Context(), values, frames, phases, gain)
				} else {
					each(b.Context(), values, frames, phases, gain)
				}
			}
			perCell(b)
		})
	}
}
