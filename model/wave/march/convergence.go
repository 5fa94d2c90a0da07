package march

import (
	"math"
	"math/cmplx"
	"slices"

	"evenbass/model"
	"evenbass/model/wave/prediction"
)

// Convergence says when levels have converged, so that a run may end: when a fifth more sound no longer changes
// them, each time with what package prediction makes of the rest. The zero value never ends a run.
type Convergence struct {
	Tolerance model.Level // largest change, rms over probes and bands, dB; 0 is never
	From, To  float64     // frequencies that count, Hz
	Smoothing int         // levels are means of the power over 1/Smoothing octave; 0 is none

	// Decays demands also that each third octave is so sure that its decay can be read over 25 dB.
	Decays bool
}

// What a convergence looks at. See MEASURED.md of package wave.
const (
	probes         = 8    // recorded cells that are transformed as they come
	fitted         = 12   // recorded cells from which the rest is predicted
	linesPerOctave = 48   // frequencies transformed
	leastLines     = 2    // neighbouring ones whose power is one level
	firstCheck     = 0.14 // s
	checkRatio     = 1.2  // of the lengths of sound at two checks
)

// decayed is the share of a third octave's energy by which its sound may have changed where decays are read: 40 dB
// less.
const decayed = 1e-4

// convergent follows the levels of a run.
type convergent struct {
	Convergence
	phase        []complex128   // by frequency: rad per frame
	turn, phasor []complex128   // by frequency: of a frame, and at the present one
	sums         [][]complex128 // by probe: running transforms
	silent, next int            // frames before the source is silent and before the next check
	records      [][]float64    // by fitted cell: from then on
	rest         prediction.Predictor
	was          *spectra // at the last check
	ready        bool     // levels have converged
	begun        float64  // change at the first comparison, dB
	share        float64  // way from there to the tolerance, 0..1 on a scale of decibels
}

// spectra are transforms at one time, what is predicted included.
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
	v := &convergent{Convergence: c, silent: r.pulse.len/r.every + 1, next: int(firstCheck / frame), records: make([][]float64, fitted)}
	for f := c.From; f <= c.To; f *= math.Exp2(1.0 / linesPerOctave) {
		phase := r.phase(f)
		v.phase, v.turn, v.phasor = append(v.phase, phase), append(v.turn, cmplx.Exp(-1i*phase)), append(v.phasor, 1)
	}
	for range probes {
		v.sums = append(v.sums, make([]complex128, len(v.turn)))
	}
	return v
}

// done returns how far levels have converged, 0..1. 1 is far enough.
func (v *convergent) done() float64 {
	if v.ready {
		return 1
	}
	return min(v.share, 0.99)
}

// evenly returns the i-th of n values that lie evenly in a frame.
func evenly(frame []float32, i, n int) float64 { return float64(frame[(2*i+1)*len(frame)/(2*n)]) }

// follow takes the latest of the frames.
func (v *convergent) follow(frames [][]float32) {
	length := len(frames)
	frame := frames[length-1]
	for c := range v.sums {
		p, sums := evenly(frame, c, probes), v.sums[c][:len(v.phasor)]
		for k, z := range v.phasor {
			sums[k] += complex(p*real(z), p*imag(z))
		}
	}
	for k, turn := range v.turn {
		v.phasor[k] *= turn
	}
	if length > v.silent {
		for c := range v.records {
			v.records[c] = append(v.records[c], evenly(frame, c, fitted))
		}
	}
	if length < v.next {
		return
	}
	v.next = int(math.Ceil(checkRatio * float64(length)))
	v.rest = prediction.Fit(v.records)
	is := v.spectra(frames)
	if v.was != nil {
		v.ready = v.converged(v.was, is) && (!v.Decays || v.sure(v.was, is))
	}
	v.was = is
}

// spectra returns the running transforms with what is predicted of the rest.
func (v *convergent) spectra(frames [][]float32) *spectra {
	s := new(spectra)
	for _, sums := range v.sums {
		s.sums = append(s.sums, slices.Clone(sums))
	}
	last := make([][]float64, probes) // values, the latest first
	for c := range last {
		for m := range v.rest {
			last[c] = append(last[c], evenly(frames[len(frames)-1-m], c, probes))
		}
	}
	var weights []complex128
	for k, phase := range v.phase {
		weights = v.rest.Tail(weights[:0], phase)
		for c, values := range last {
			var re, im float64
			for m, p := range values[:len(weights)] {
				re += p * real(weights[m])
				im += p * imag(weights[m])
			}
			s.sums[c][k] += v.phasor[k] * complex(re, im)
		}
	}
	for _, sums := range s.sums {
		s.levels = append(s.levels, v.levels(sums))
	}
	return s
}

// levels returns the levels of neighbouring lines together, every other one, up to a constant.
func (v *convergent) levels(lines []complex128) (list []float64) {
	width := leastLines
	if v.Smoothing > 0 {
		width = max(width, linesPerOctave/v.Smoothing+1)
	}
	width = min(width, len(lines))
	for k := 0; k+width <= len(lines); k += 2 {
		var sum float64
		for _, z := range lines[k : k+width] {
			sum += power(z)
		}
		list = append(list, float64(model.PowerLevel(sum)))
	}
	return list
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

// sure reports whether no third octave's sound has changed by more than the share [decayed] of its energy. Half of
// one at either end lies beside the bands of interest.
func (v *convergent) sure(was, is *spectra) bool {
	const third = linesPerOctave / 3
	for from := third / 2; from+third <= len(v.turn)-third/2; from += third {
		var changed, all float64
		for c, sums := range is.sums {
			for k, z := range sums[from : from+third] {
				changed += power(z - was.sums[c][from+k])
				all += power(z)
			}
		}
		if changed > decayed*all {
			return false
		}
	}
	return true
}
