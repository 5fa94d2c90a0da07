package sweep

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model"
)

// inverse turns the recording of one sweep into an impulse response, at the working rate.
type inverse struct {
	s      Sweep
	rate   float64
	n      int // length of the transforms
	fft    *fourier.FFT
	filter []complex128 // conj(X) / (|X|² + ε), over n
	power  []float64    // |X|² of the sweep at full level, by line of the transform
}

// floor is ε over the power of the sweep, at every frequency (Kirkeby and Nelson, "Digital filter
// design for inversion problems in sound reproduction", J. Audio Eng. Soc. 47, 1999). Beyond its
// band a sweep has little power, and dividing by it would raise noise; there the response fades
// over skirt octaves. A narrower skirt would ring for longer.
const (
	floor = 1e-5
	skirt = 1.0 / 3
)

func newInverse(s Sweep) *inverse {
	v := &inverse{s: s, rate: s.workRate()}
	longest := int((lead + s.Length + s.Pause) * v.rate)
	for v.n = 1; v.n < longest; v.n *= 2 {
	}
	v.fft = fourier.NewFFT(v.n)
	x := make([]float64, v.n)
	for i := range x {
		x[i] = s.Level.Ratio() * s.wave(float64(i)/v.rate)
	}
	v.filter = v.fft.Coefficients(nil, x)
	v.power = make([]float64, len(v.filter))
	for i, c := range v.filter {
		f := v.rate * float64(i) / float64(v.n)
		v.power[i] = real(c)*real(c) + imag(c)*imag(c)
		v.filter[i] = cmplx.Conj(c) * complex(s.weight(f)/((v.power[i]+s.regularisation(f))*float64(v.n)), 0)
	}
	return v
}

// regularisation returns ε at f in Hz. The power of an exponential sweep of amplitude a is
// a² L / 4f (Müller and Massarani 2001), at the working rate times its square.
func (s Sweep) regularisation(f float64) float64 {
	return floor * s.Level.Power() * s.growth() / (4 * max(f, 0.1)) * s.workRate() * s.workRate()
}

// weight is 1 in the band and fades beyond it.
func (s Sweep) weight(f float64) float64 {
	band := s.Band()
	beyond := max(math.Log2(band.Min/max(f, 0.1)), math.Log2(f/band.Max), 0)
	return ramp(1 - beyond/skirt)
}

// lead is the time before a sweep that is analysed with it, s.
const lead = 0.5

// response returns the impulse response about time zero, cyclic: sample i belongs to the time
// i/rate, and those of the upper half to times before zero. The recording is on the timeline of
// the sweep, and the part begins there at the given time in s.
func (v *inverse) response(recording []float64, begins float64) []float64 {
	from := int((begins - lead) * v.rate)
	y := make([]float64, v.n)
	copy(y, recording[from:min(len(recording), from+int((lead+v.s.Length+v.s.Pause)*v.rate))])
	fadeEnds(y[:int((lead+v.s.Length+v.s.Pause)*v.rate)], int(0.05*v.rate))
	spectrum := v.fft.Coefficients(nil, y)
	delay := 2 * math.Pi * float64(int(begins*v.rate)-from) / float64(v.n)
	for i := range spectrum {
		spectrum[i] *= v.filter[i] * cmplx.Rect(1, math.Mod(delay*float64(i), 2*math.Pi))
	}
	return v.fft.Sequence(y, spectrum)
}

// fadeEnds fades the first and the last n samples.
func fadeEnds(x []float64, n int) {
	for i := range min(n, len(x)/2) {
		gain := ramp(float64(i) / float64(n))
		x[i] *= gain
		x[len(x)-1-i] *= gain
	}
}

// before is how much before time zero is kept, s: an impulse response that ends at the edges of a
// band begins before it does, and distortion products stand earlier still.
func (s Sweep) before() float64 { return min(0.5, 0.4*s.growth()*math.Ln2) }

// impulse cuts the linear response out of the cyclic one, and returns which sample is time zero.
func (v *inverse) impulse(h []float64) (samples []float64, zero float64) {
	before, after := int(v.s.before()*v.rate), int((v.s.Pause-0.1)*v.rate)
	samples = make([]float64, before+after)
	for i := range samples {
		samples[i] = h[(i-before+v.n)%v.n]
	}
	fadeEnds(samples, int(0.1*v.rate))
	return samples, float64(before)
}

// harmonics is the highest one that is counted.
const harmonics = 5

// Harmonics is the distortion at one frequency: what the speaker adds to a tone, as the microphone
// hears it.
type Harmonics struct {
	Frequency float64 // of the tone, Hz
	Share     float64 // amplitude of harmonics 2 to 5 over that of the tone; those beyond the sweep are left out
	Floor     float64 // the share that noise alone would give: what is not well above it is noise
}

// distortion returns the harmonics in third octaves. Harmonic k stands L ln k before time zero
// (Farina 2000). Its spectrum is that of what the speaker puts out at k times the tone, since the
// sweep's power falls alike for all. The noise is by frequency in Hz, per second of response.
func (v *inverse) distortion(h []float64, level, noise func(f float64) float64) []Harmonics {
	band, l := v.s.Band(), v.s.growth()
	width := min(0.4*l*math.Log(float64(harmonics)/(harmonics-1)), 0.5)
	var parts [harmonics + 1][]complex128
	for k := 2; k <= harmonics; k++ {
		x := make([]float64, v.n)
		at := int(math.Round(-l * math.Log(float64(k)) * v.rate))
		n := int(width * v.rate)
		piece := make([]float64, n)
		for i := range piece {
			piece[i] = h[((at+i-n/5)%v.n+v.n)%v.n]
		}
		fadeEnds(piece, n/10)
		copy(x, piece)
		parts[k] = v.fft.Coefficients(nil, x)
	}
	var list []Harmonics
	for third := -16; third <= -4; third++ { // 25 to 400 Hz
		centre := 1000 * math.Pow(10, float64(third)/10)
		edges := model.Range{Min: centre * math.Pow(10, -0.05), Max: centre * math.Pow(10, 0.05)}
		if edges.Min < band.Min || 2*edges.Max > band.Max {
			continue
		}
		tone := v.mean(edges, level)
		var sum, floor float64
		for k := 2.0; k <= harmonics && k*edges.Max <= band.Max; k++ {
			lines := model.Range{Min: k * edges.Min, Max: k * edges.Max}
			sum += v.mean(lines, func(f float64) float64 {
				c := parts[int(k)][int(math.Round(f*float64(v.n)/v.rate))]
				return real(c)*real(c) + imag(c)*imag(c)
			})
			floor += v.mean(lines, func(f float64) float64 { return noise(f) * width })
		}
		list = append(list, Harmonics{centre, math.Sqrt(sum / tone), math.Sqrt(floor / tone)})
	}
	return list
}

// mean returns the mean of a power over a band, Hz, at the lines of the transform.
func (v *inverse) mean(band model.Range, power func(f float64) float64) float64 {
	step := v.rate / float64(v.n)
	var sum, count float64
	for i := math.Ceil(band.Min / step); i <= band.Max/step; i++ {
		sum += power(i * step)
		count++
	}
	return sum / max(1, count)
}
