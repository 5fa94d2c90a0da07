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
