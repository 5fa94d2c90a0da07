package response

import (
	"math"
	"testing"
)

// The ends are the published thresholds of audibility: 0.85 s at 32 Hz, 0.2 s above
// 100 Hz (quoted from an abstract).
func TestAudible(t *testing.T) {
	for _, c := range []struct{ f, want float64 }{{20, 0.85}, {32, 0.85}, {100, 0.2}, {250, 0.2}, {math.Sqrt(3200), 0.525}} {
		if got := Audible(c.f); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("audible at %g Hz: %g s, want %g", c.f, got, c.want)
		}
	}
}

func TestLingering(t *testing.T) {
	decays := []Decay{{Band: 25, Fall20: 9}, {Band: 100, Fall20: 0.2}, {Band: 125, Fall20: 0.05}, {Band: 160, Fall20: 0.95}, {Band: 200}}
	if got, want := Lingering(decays, 30, 300), (0.4+0+2.8+2.8)/4; math.Abs(got-want) > 1e-9 {
		t.Errorf("lingering %g s, want %g", got, want)
	}
	if got := Lingering(nil, 30, 300); got != 0 {
		t.Errorf("no bands linger for %g s", got)
	}
}
