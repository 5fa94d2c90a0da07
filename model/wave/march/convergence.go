package march

import (
	"math"
	"math/cmplx"
	"slices"

	"evenbass/model"
)

// Convergence says when levels have converged, so that a run may end: when 50 ms of sound no longer change
// them. The zero value never ends a run.
type Convergence struct {
	Tolerance model.Level // largest change, rms over probes and bands, dB; 0 is never
	From, To  float64     // frequencies that count, Hz

	// Decays demands also that each third octave has fallen so far that its decay can be read over 25 dB.
	Decays bool
}

// What a convergence looks at. See MEASURED.md of package wave.
const (
	probes         = 8     // recorded cells that are transformed as they come
	bandsPerOctave = 24    // each is the power at two neighbouring frequencies
	checkInterval  = 0.025 // s
	checksApart    = 2     // checks between the two levels that are compared
	firstCheck     = 0.15  // s
)

// decayed is the share of a third octave's energy that its last 50 ms may hold where decays are read: 40 dB less.
// Sound that takes 2 s to fall by 60 dB is 36 dB down then, which lengthens a decay over 25 dB by 1 %.
const decayed = 1e-4

// convergent follows the levels of a run.
type convergent struct {
	Convergence
	turn, phasor []complex128   // by frequency: of a frame, and at the present one
	sums         [][]complex128 // by probe: running transforms
	every, first int            // frames between two checks and before the first
	past         []spectra      // at the last checks
	passed       int            // checks in a row that found levels converged
	begun        float64        // change at the first comparison, dB
	share        float64        // way from there to the tolerance, 0..1 on a scale of decibels
}

// spectra are running transforms at one time.
type spectra struct {
	sums   [][]complex128 // by probe, by frequency
	levels [][]float64    // by probe, by band, dB
}

// newConvergent returns the convergence of a record; nil for the zero value and where no frequencies count.
func newConvergent(c Convergence, r *Record) *convergent {
	if c.Tolerance <= 0 || c.From >= c.To {
		return nil
	}
	frame := float64(r.every) * r.step
	v := &convergent{Convergence: c, every: max(1, int(checkInterval/frame)), first: int(firstCheck / frame)}
	for f := c.From; f <= c.To; f *= math.Exp2(1.0 / bandsPerOctave) {
		phase, _ := r.Reading(f)
		v.turn, v.phasor = append(v.turn, cmplx.Exp(-1i*phase)), append(v.phasor, 1)
	}
	for range probes {
		v.sums = append(v.sums, make([]complex128, len(v.turn)))
	}
	return v
}

// done returns how far levels have converged, 0..1. 1 is far enough.
func (v *convergent) done() float64 {
	if v.passed >= checksApart {
		return 1
	}
	return min(v.share, 0.99)
}

// follow takes a frame, number n.
func (v *convergent) follow(frame []float32, n int) {
	for c := range v.sums {
		p, sums := float64(frame[(2*c+1)*len(frame)/(2*probes)]), v.sums[c][:len(v.phasor)]
		for k, z := range v.phasor {
			sums[k] += complex(p*real(z), p*imag(z))
		}
	}
	for k, turn := range v.turn {
		v.phasor[k] *= turn
	}
	if n < v.first || n%v.every != 0 {
		return
	}
	v.past = append(v.past, v.spectra())
	if len(v.past) <= checksApart {
		return
	}
	was, is := &v.past[0], &v.past[checksApart]
	v.past = v.past[1:]
	if v.passed++; !v.converged(was, is) || v.Decays && !v.faded(was, is) {
		v.passed = 0
	}
}

// spectra returns the running transforms as they are.
func (v *convergent) spectra() (s spectra) {
	for _, sums := range v.sums {
		levels := make([]float64, len(sums)-1)
		for k := range levels {
			levels[k] = float64(model.PowerLevel(power(sums[k]) + power(sums[k+1])))
		}
		s.sums, s.levels = append(s.sums, slices.Clone(sums)), append(s.levels, levels)
	}
	return s
}

func power(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// converged reports whether levels have changed by no more than the tolerance.
func (v *convergent) converged(was, is *spectra) bool {
	var squares, count float64
	for c, levels := range is.levels {
		for k, l := range levels {
			d := l - was.levels[c][k]
			squares += d * d
			count++
		}
	}
	change := math.Sqrt(squares / count)
	if v.begun == 0 {
		v.begun = change
	}
	if way := math.Log(v.begun / change); way > 0 {
		v.share = max(v.share, way/math.Log(v.begun/float64(v.Tolerance)))
	}
	return change <= float64(v.Tolerance)
}

// faded reports whether no third octave has got more than the share [decayed] of its energy since. Half of one at
// either end lies beside the bands of interest.
func (v *convergent) faded(was, is *spectra) bool {
	const third = bandsPerOctave / 3
	for from := third / 2; from+third <= len(v.turn)-third/2; from += third {
		var late, all float64
		for c, sums := range is.sums {
			for k, z := range sums[from : from+third] {
				late += power(z - was.sums[c][from+k])
				all += power(z)
			}
		}
		if late > decayed*all {
			return false
		}
	}
	return true
}
