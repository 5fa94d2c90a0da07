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

// The group's transform against the sum as it is defined, in double precision: records of
// even and odd length, transforms of an even and an odd power of 2, groups that are full and that are not.
func TestGrouper(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct{ length, cells, phases int }{{1, 1, 1}, {2, 3, 4}, {7, 16, 5}, {300, 37, 42}, {650, 16, 9}, {1023, 16, 9}} {
		var phases, gain []complex128
		for range c.phases {
			phases, gain = append(phases, complex(rng.Float64()*math.Pi, 0)), append(gain, complex(rng.Float64(), rng.Float64()))
		}
		phases[0] = 0
		frames, end := records(rng, c.length, c.cells), taper(c.length, c.length/5)
		got := make([]complex64, c.cells*c.phases)
		newGrouper(phases, gain, end).transform(t.Context(), got, frames)
		for cell := range c.cells {
			for i, phase := range phases {
				var want complex128
				for n, frame := range frames {
					want += gain[i] * complex(float64(frame[cell]*end[n]), 0) * cmplx.Exp(-1i*phase*complex(float64(n), 0))
				}
				if got := complex128(got[cell*c.phases+i]); cmplx.Abs(got-want) > 4e-6*math.Sqrt(float64(c.length)) {
					t.Errorf("%+v, cell %d, phase %v: %v, want %v", c, cell, phase, got, want)
				}
			}
		}
	}
}

// The kernels of this build against plain Go.
func TestGroupKernelsAgree(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	random := func(n int) []point {
		list := make([]point, n)
		for i := range list {
			copy(list[i][:], records(rng, 1, groupCells)[0])
		}
		return list
	}
	same := func(what string, got, want []point) {
		t.Helper()
		for i := range want {
			for j := range want[i] {
				if d := math.Abs(float64(got[i][j] - want[i][j])); d > 3e-6 {
					t.Errorf("%s, point %d, cell %d: %v, want %v", what, i, j, got[i][j], want[i][j])
				}
			}
		}
	}
	cells := records(rng, 1, groupCells+3)[0]
	var got, want [1]point
	scale(&got[0], cells, 0.7)
	portableScale(&want[0], cells, 0.7)
	same("scale", got[:], want[:])

	points := random(20)
	places, weights := [taps]int32{3, 19, 0, 7, 7, 12, 1, 5}, [taps]float32{0.5, -1, 2, 0.25, 1, -0.75, 0.1, 1}
	sumPoints(&got[0], points, &places, &weights)
	portableSumPoints(&want[0], points, &places, &weights)
	same("sumPoints", got[:], want[:])

	terms := make([]complex64, len(points))
	for i := range terms {
		terms[i] = complex(points[i][0], points[i][1])
	}
	var sums, plain [2]point
	restSums(&sums[0], &sums[1], points, terms)
	portableRestSums(&plain[0], &plain[1], points, terms)
	same("restSums", sums[:], plain[:])

	block := random(16)
	apart := append([]point(nil), block...)
	quarters(block, turnsFor(16)[0])
	portableQuarters(apart, turnsFor(16)[0])
	same("quarters", block, apart)
}

// A transform that is cancelled leaves off before the next cell, with and without losses.
func TestTransformStops(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	frames := records(rand.New(rand.NewPCG(7, 8)), 50, 20)
	for _, phase := range []complex128{0.3, complex(0.3, -0.01)} {
		got, stopped := Transform(t.Context(), frames, nil, []complex128{phase}, []complex128{1}), Transform(ctx, frames, nil, []complex128{phase}, []complex128{1})
		for i := range stopped {
			if stopped[i] != 0 || got[i] == 0 {
				t.Fatalf("phase %v, cell %d: %v, and %v where it was cancelled", phase, i, got[i], stopped[i])
			}
		}
	}
}

// BenchmarkTransform turns records into frequencies, cell by cell and group by group: of 1.2 s at
// 1.1 kHz into the usual ones, and of 6 s into those of a room that rings.
func BenchmarkTransform(b *testing.B) {
	for _, room := range []struct {
		name   string
		length int
		grid   model.Grid
	}{{"usual", 1320, model.DefaultGrid()}, {"ringing", 6600, model.NewGrid(20, 315, 400, 0.2)}} {
		var phases, gain []complex128
		for _, f := range room.grid {
			phases, gain = append(phases, complex(2*math.Pi*f/1100, 0)), append(gain, 1)
		}
		frames := records(rand.New(rand.NewPCG(1, 2)), room.length, 64)
		end := taper(room.length, room.length/5)
		for _, way := range []string{"cells", "groups"} {
			b.Run(room.name+"/"+way, func(b *testing.B) {
				values := make([]complex64, len(frames[0])*len(room.grid))
				for b.Loop() {
					if way == "groups" {
						newGrouper(phases, gain, end).transform(b.Context(), values, frames)
					} else {
						each(b.Context(), values, frames, end, phases, gain)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(frames[0])), "ns/cell")
				b.ReportMetric(float64(len(room.grid)), "frequencies")
			})
		}
	}
}
