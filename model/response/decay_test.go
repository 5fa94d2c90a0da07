package response

import (
	"math"
	"testing"
)

// ringing is the transfer of a resonance at f0 in Hz that falls by 60 dB in t60 s: the
// transform of exp(-δt) e^{jω0 t}, δ = 3 ln 10/t60 (definition of the decay time).
func ringing(f0, t60 float64) []complex128 {
	delta := 3 * math.Ln10 / t60
	var list []complex128
	for _, f := range DecayGrid() {
		list = append(list, 1/complex(delta, 2*math.Pi*(f-f0)))
	}
	return list
}

// A single exponential of known rate reads within 10 % wherever the filter is said to
// resolve it: 20 dB of its fall take a third of its decay time.
func TestDecayOfExponentials(t *testing.T) {
	t.Parallel()
	r := NewDecayReader()
	seen := 0
	for b, band := range decayBands {
		_, centre, _ := Band(3, band.number)
		for _, t60 := range []float64{0.15, 0.2, 0.3, 0.5, 0.8, 1.2} {
			got := r.Read(ringing(centre, t60))[b]
			if !got.Resolved() || got.Fall20 == 0 {
				continue
			}
			seen++
			if off := got.Fall20/(t60/3) - 1; math.Abs(off) > 0.10 {
				t.Errorf("%g Hz, %g s: 20 dB in %.3f s, %.0f %% off", band.nominal, t60, got.Fall20, 100*off)
			}
			if off := got.Fall30/(t60/2) - 1; got.Fall30 > 0 && math.Abs(off) > 0.10 {
				t.Errorf("%g Hz, %g s: 30 dB in %.3f s, %.0f %% off", band.nominal, t60, got.Fall30, 100*off)
			}
		}
	}
	if seen < 40 {
		t.Errorf("only %d of 60 cases were resolved", seen)
	}
	for b, d := range r.Read(ringing(100, 0.5)) {
		t.Logf("%5g Hz: the filter alone falls 20 dB in %.0f ms", decayBands[b].nominal, 1000*d.Filter)
	}
}

// A fall faster than the filter's own does not count as resolved.
func TestDecayTooFast(t *testing.T) {
	t.Parallel()
	r := NewDecayReader()
	if d := r.Read(ringing(31.5, 0.02))[0]; d.Resolved() {
		t.Errorf("20 dB in 7 ms at 31.5 Hz are said to be resolved: %+v", d)
	}
}

// Nominal frequencies are those of ISO 266 for the numbers of IEC 61260-1.
func TestDecayBands(t *testing.T) {
	t.Parallel()
	for _, b := range decayBands {
		if _, centre, _ := Band(3, b.number); math.Abs(centre/b.nominal-1) > 0.02 {
			t.Errorf("band %d is at %.1f Hz, named %g", b.number, centre, b.nominal)
		}
	}
}

func TestMeanFall(t *testing.T) {
	t.Parallel()
	got := MeanFall([]Decay{{Fall20: 0.3, Filter: 0.05}, {Fall20: 0.02, Filter: 0.05}, {Filter: 0.05}})
	if want := (0.3 + 0.1 + 1) / 3; math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
}

// A decay longer than can be read never passes for a quick one, and one just short of that still
// reads true.
func TestDecayTooSlow(t *testing.T) {
	t.Parallel()
	r := NewDecayReader()
	for b, band := range decayBands {
		_, centre, _ := Band(3, band.number)
		for _, fall := range []float64{1.1, 1.5, 2, 3, 5, 8} {
			if d := r.Read(ringing(centre, 3*fall))[b]; d.Fall20 != 0 && !d.Slow() {
				t.Errorf("%g Hz: 20 dB in %g s read %.3f s", band.nominal, fall, d.Fall20)
			}
		}
		for _, fall := range []float64{0.5, 0.65, 0.8} {
			if d := r.Read(ringing(centre, 3*fall))[b]; d.Slow() || math.Abs(d.Fall20/fall-1) > 0.10 {
				t.Errorf("%g Hz: 20 dB in %g s read %.3f s", band.nominal, fall, d.Fall20)
			}
		}
	}
}

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
