package model

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A source that is flat outdoors reads 0 dB at 1 m and -6.02 dB at 2 m at every
// frequency: the definition of the room gain.
func ExampleRoomGain() {
	air := AirAt(0)
	grid := Grid{31.5, 125}
	for _, r := range []float64{1, 2} {
		p := FreeField(nil, grid, air, r)
		for i, f := range grid {
			fmt.Printf("%g m, %g Hz: %.2f dB\n", r, f, RoomGain(p[i], f, air))
		}
	}
	// Output:
	// 1 m, 31.5 Hz: 0.00 dB
	// 1 m, 125 Hz: 0.00 dB
	// 2 m, 31.5 Hz: -6.02 dB
	// 2 m, 125 Hz: -6.02 dB
}

func TestLevelRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1e-6, 1e6).Draw(t, "ratio")
		if got := LevelOf(r).Ratio(); math.Abs(got-r) > 1e-9*r {
			t.Fatalf("amplitude %v came back as %v", r, got)
		}
		if got := PowerLevel(r).Power(); math.Abs(got-r) > 1e-9*r {
			t.Fatalf("power %v came back as %v", r, got)
		}
	})
}

func TestFreeFieldPhase(t *testing.T) {
	air := Air{Speed: 343, Density: 1.21}
	// At 343 Hz a metre is one wavelength: p = jωρ/(4π).
	p := FreeField(nil, Grid{343}, air, 1)
	want := complex(0, 2*math.Pi*343*1.21/(4*math.Pi))
	if math.Abs(real(p[0]-want)) > 1e-9 || math.Abs(imag(p[0]-want)) > 1e-9 {
		t.Errorf("p = %v, want %v", p[0], want)
	}
}

func TestTransfersLength(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a slice of the wrong length was accepted")
		}
	}()
	Transfers(make([]complex128, 3), 4)
}

func TestDefaultGrid(t *testing.T) {
	g := DefaultGrid()
	if len(g) != 224 || g[0] != 20 || g[len(g)-1] != 315 {
		t.Fatalf("grid has %d frequencies from %v to %v, want 224 from 20 to 315", len(g), g[0], g[len(g)-1])
	}
}

// However a grid is asked for, it ends where it was told to and never steps
// further than either limit.
func TestGridSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(5, 100).Draw(t, "from")
		to := from * rapid.Float64Range(1.01, 20).Draw(t, "ratio")
		per := rapid.IntRange(1, 96).Draw(t, "perOctave")
		step := rapid.Float64Range(0, 10).Draw(t, "maxStep")
		if step > 0 && step < 0.2 {
			step = 0.2
		}
		g := NewGrid(from, to, per, step)
		if g[0] != from || g[len(g)-1] != to {
			t.Fatalf("grid runs from %v to %v", g[0], g[len(g)-1])
		}
		ratio := math.Exp2(1 / float64(per))
		for i := 1; i < len(g); i++ {
			if g[i] <= g[i-1] || g[i] > g[i-1]*ratio*(1+1e-8) {
				t.Fatalf("step from %v to %v", g[i-1], g[i])
			}
			if step > 0 && g[i]-g[i-1] > step*(1+1e-6) {
				t.Fatalf("step from %v to %v is wider than %v Hz", g[i-1], g[i], step)
			}
		}
	})
}

func TestGridNearest(t *testing.T) {
	g := Grid{20, 40, 80}
	for f, want := range map[float64]int{1: 0, 29: 0, 31: 1, 59: 1, 61: 2, 500: 2} {
		if got := g.Nearest(f); got != want {
			t.Errorf("nearest to %v Hz is %d, want %d", f, got, want)
		}
	}
}

func TestNewGridPanics(t *testing.T) {
	for _, c := range [][3]float64{{0, 10, 3}, {10, 10, 3}, {10, 20, 0}, {math.NaN(), 20, 3}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("grid %v was accepted", c)
				}
			}()
			NewGrid(c[0], c[1], int(c[2]), 0)
		}()
	}
}
