package stage

import (
	"math"
	"testing"
)

// Decay rates add, as absorption does (W. C. Sabine, 1900): a piece that takes 200 ms to 100 ms alone takes 100 ms
// to 67 ms where as much is built already, and two thirds of what it gained is gone. Where it was just tried, what
// it gained is expected; where a decay is not known, only its gain in spread is.
func TestExpectedGain(t *testing.T) {
	t.Parallel()
	lasting := func(s float64) *State {
		h := &State{DecayWeight: 10}
		h.Card.Fall.Mean = s
		return h
	}
	alone := attempt{lasting(0.2), lasting(0.1)}
	for _, c := range []struct {
		name string
		a    attempt
		h    *State
		want float64
	}{
		{"as it was tried", alone, alone.before, 1},
		{"as much is built", alone, lasting(0.1), 10 * (0.1 - 1/15.0)},
		{"a piece that reflects", attempt{lasting(0.1), lasting(0.2)}, lasting(1.0 / 15), 10 * (1/15.0 - 0.1)},
		{"decay unknown", attempt{lasting(0), lasting(0)}, lasting(0.1), 0},
	} {
		if got := c.a.expected(c.h); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.4f dB, want %.4f dB", c.name, got, c.want)
		}
	}
	even := lasting(0.2)
	even.Robust = -2 // 2 dB less spread than before
	if got := (attempt{lasting(0.2), even}).expected(lasting(0.3)); math.Abs(got-2*spreadKept) > 1e-9 {
		t.Errorf("a gain in spread of 2 dB: %.4f dB are expected, want %.4f dB", got, 2*spreadKept)
	}
}
