package image

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
)

// The Fourier transform of the impulse response is the transfer, wherever the grid
// reaches.
func TestImpulseIsTheTransfer(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 12, 0)
	for _, w := range [][6]model.Boundary{each(0.1), each(0.05+0.05i, 0.1), {sloped{0.05, 0.1}, sloped{0.1, 0.05}, nil, model.Plain(0.1), nil, nil}} {
		box := model.Box{Size: roomT, Air: airT, Walls: w}
		f := mustField(t, box, grid, Settings{Decay: -40}, seatT)
		h, want := f.Impulse(sourceT), f.Transfer(nil, sourceT)
		got := make([]complex128, len(grid))
		for i, v := range grid {
			for n, s := range h.Samples {
				time := h.Start + float64(n)/h.Rate
				got[i] += complex(s/h.Rate, 0) * cmplx.Exp(complex(0, -2*math.Pi*v*time))
			}
		}
		// A response that rings on past the last sample limits this, not arithmetic.
		if e := worst(got, want); !(e < 2e-3) {
			t.Errorf("off by %.2g", e)
		}
	}
}

// With walls that take all, nothing is heard but the direct sound, band-limited,
// with its largest rate of rise when it arrives. Nothing comes long before it.
func TestImpulseArrivesInTime(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: roomT, Air: airT, Walls: each(0.5)}
	f := mustField(t, box, model.DefaultGrid(), Settings{Decay: -30}, seatT)
	h := f.Impulse(sourceT)
	at := func(time float64) int { return int(math.Round((time - h.Start) * h.Rate)) }
	arrival := 2.837252191822 / airT.Speed
	var total, early float64
	peak := 0
	for i, s := range h.Samples {
		total += s * s
		if i < at(arrival-0.01) {
			early += s * s
		}
		if math.Abs(s) > math.Abs(h.Samples[peak]) {
			peak = i
		}
	}
	if d := h.Start + float64(peak)/h.Rate - arrival; math.Abs(d) > 0.003 {
		t.Errorf("peak is %.1f ms from the arrival of the direct sound", 1e3*d)
	}
	if !(early < 0.01*total) {
		t.Errorf("%.1f %% of the energy comes more than 10 ms before the direct sound", 100*early/total)
	}
}
