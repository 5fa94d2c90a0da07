package sweep

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model"
)

// The timing mark: a chirp whose frequency rises linearly.
const (
	markFrom   = 1000.0             // Hz
	markTo     = 4000.0             // Hz
	markLength = 0.2                // s
	markLevel  = model.Level(-12)   // re the sweep
	markFade   = markLength * 0.125 // s

	lowestRate = 16000.0 // of a recording that holds it, Hz
)

// mark returns the timing mark, with a peak of 1, at t seconds after its beginning.
func mark(t float64) float64 {
	if t < 0 || t >= markLength {
		return 0
	}
	gain := ramp(t/markFade) * ramp((markLength-t)/markFade)
	return gain * math.Sin(2*math.Pi*(markFrom*t+(markTo-markFrom)/(2*markLength)*t*t))
}

// matched returns, for every sample of a recording, the analytic signal of its correlation with
// a mark that begins there. It is computed in blocks that overlap (overlap-save).
func matched(x []float64, rate float64) []complex64 {
	taps := int(markLength*rate) + 1
	n := 1 << 16
	for n < 4*taps {
		n *= 2
	}
	direct, back := fourier.NewFFT(n), fourier.NewCmplxFFT(n)
	template := make([]float64, n)
	for i := range taps {
		template[i] = mark(float64(i) / rate)
	}
	filter := direct.Coefficients(nil, template)
	for i, v := range filter {
		filter[i] = cmplx.Conj(v) * complex(2/float64(n), 0)
	}
	out := make([]complex64, len(x))
	block, spectrum, product, result := make([]float64, n), make([]complex128, n/2+1), make([]complex128, n), make([]complex128, n)
	for first := 0; first < len(x); first += n - taps {
		clear(block[copy(block, x[first:]):])
		direct.Coefficients(spectrum, block)
		for i, v := range spectrum {
			product[i] = v * filter[i] // the upper half stays zero: the analytic signal
		}
		back.Sequence(result, product)
		for i := first; i < min(len(x), first+n-taps); i++ {
			out[i] = complex64(result[i-first])
		}
	}
	return out
}

func power(v complex64) float64 {
	return float64(real(v))*float64(real(v)) + float64(imag(v))*float64(imag(v))
}

// arrival is when one mark was heard, in samples of the recording; NaN if it was not.
type arrival struct {
	peak  float64 // its loudest moment
	first float64 // its first arrival
}

func (a arrival) detected() bool { return !math.IsNaN(a.peak) }

// marked is where the marks of a sweep were found in a recording.
type marked struct {
	before, after []arrival // for each of the sweep's sources
}

// Search of marks.
const (
	candidates  = 200     // loudest moments that are tried as the first mark
	apart       = 10e-3   // s between them
	latest      = 20e-3   // s by which the sound of one speaker may come later than another's
	mostDrift   = 600e-6  // δ
	aboveNoise  = 30.0    // power of a mark over the mean of the matched recording
	beforePeak  = 15e-3   // s before its loudest moment in which a mark may arrive first
	firstShare  = 0.25    // of the power of the loudest moment that the first arrival has at least
	aroundMarks = 10.0e-3 // s about a mark by which those before and after are compared
)

// find looks for the marks. It reports false if no source was heard, or none both before and after.
func (s Sweep) find(out []complex64, rate float64) (marked, bool) {
	before, after := s.marks()
	times := append(slices.Clone(before), after...)
	noise := background(out)
	best, score := 0, 0.0
	for _, c := range loudest(out, int(apart*rate)) {
		var sum float64
		for _, t := range times {
			if at := s.near(out, rate, c, t-times[0]); at >= 0 {
				sum += math.Log1p(power(out[at]) / noise)
			}
		}
		if sum > score {
			best, score = c, sum
		}
	}
	m := marked{}
	ok := false
	for i, t := range times {
		a := arrival{math.NaN(), math.NaN()}
		if at := s.near(out, rate, best, t-times[0]); at >= 0 && power(out[at]) > aboveNoise*noise {
			a = arrival{summit(out, at), summit(out, firstPeak(out, at, int(beforePeak*rate)))}
		}
		if i < len(before) {
			m.before = append(m.before, a)
			continue
		}
		m.after = append(m.after, a)
		ok = ok || a.detected() && m.before[i-len(before)].detected()
	}
	return m, ok
}

// near returns the loudest sample about the one at which a mark is expected that many seconds
// after the first; -1 beyond the recording.
func (s Sweep) near(out []complex64, rate float64, first int, later float64) int {
	reach := latest + mostDrift*later
	if later == 0 {
		return first
	}
	from, to := first+int((later-reach)*rate), first+int((later+reach)*rate)
	best := -1
	for i := max(0, from); i < min(len(out), to); i++ {
		if best < 0 || power(out[i]) > power(out[best]) {
			best = i
		}
	}
	return best
}

// background returns the mean power of what is no mark: the median of noise is ln 2 of its mean.
func background(out []complex64) float64 {
	const most = 20_000
	step := max(1, len(out)/most)
	var list []float64
	for i := 0; i < len(out); i += step {
		list = append(list, power(out[i]))
	}
	slices.Sort(list)
	return max(list[len(list)/2]/math.Ln2, math.SmallestNonzeroFloat64)
}

// loudest returns the loudest samples that are that far apart, at most [candidates].
func loudest(out []complex64, apart int) []int {
	var list []int
	for first := 0; first < len(out); first += apart {
		best := first
		for i := first; i < min(len(out), first+apart); i++ {
			if power(out[i]) > power(out[best]) {
				best = i
			}
		}
		list = append(list, best)
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(power(out[b]), power(out[a])) })
	return list[:min(len(list), candidates)]
}

// firstPeak returns the first local peak that is loud enough and at most reach samples before at.
func firstPeak(out []complex64, at, reach int) int {
	enough := firstShare * power(out[at])
	for i := max(1, at-reach); i < at; i++ {
		if p := power(out[i]); p >= enough && p >= power(out[i-1]) && p > power(out[i+1]) {
			return i
		}
	}
	return at
}

// summit returns the place of a peak between samples, by a parabola through the magnitudes.
func summit(out []complex64, at int) float64 {
	if at < 1 || at+1 >= len(out) {
		return float64(at)
	}
	a, b, c := math.Sqrt(power(out[at-1])), math.Sqrt(power(out[at])), math.Sqrt(power(out[at+1]))
	return float64(at) + parabola(a, b, c)
}

// parabola returns where between -1/2 and 1/2 the parabola through three values has its peak.
func parabola(a, b, c float64) float64 {
	curve := a - 2*b + c
	if curve >= 0 {
		return 0
	}
	return max(-0.5, min(0.5, (a-c)/(2*curve)))
}

// drift returns δ, the mean over the sources that were heard before and after. The two are laid
// over each other with all that the room adds, which finds the lag better than their peaks.
func (s Sweep) drift(out []complex64, rate float64, m marked) float64 {
	before, after := s.marks()
	var sum, count float64
	for i := range before {
		if !m.before[i].detected() || !m.after[i].detected() {
			continue
		}
		a, b := int(math.Round(m.before[i].peak)), int(math.Round(m.after[i].peak))
		lag := float64(b-a) + overlay(out, a, b, int(aroundMarks*rate))
		sum += lag/rate/(after[i]-before[i]) - 1
		count++
	}
	return sum / count
}

// overlay returns by how many samples more than b-a the signal about b is later than that about a.
func overlay(out []complex64, a, b, around int) float64 {
	const reach = 24
	var match [2*reach + 1]float64
	best := reach
	for k := range match {
		var sum complex128
		for i := -around; i <= around; i++ {
			if p, q := a+i, b+i+k-reach; p >= 0 && q >= 0 && p < len(out) && q < len(out) {
				sum += cmplx.Conj(complex128(out[p])) * complex128(out[q])
			}
		}
		if match[k] = cmplx.Abs(sum); match[k] > match[best] {
			best = k
		}
	}
	if best == 0 || best == 2*reach {
		return float64(best - reach)
	}
	return float64(best-reach) + parabola(match[best-1], match[best], match[best+1])
}
