package sweep

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"

	"evenbass/model"
	"evenbass/model/measure"
)

// noise is the power density of the room's noise at the working rate, in lines of 1 Hz.
type noise []float64

// newNoise reads the silence before the sweeps (Welch 1967: segments of 1 s under a Hann window,
// half overlapping). It is nil if less than 1 s of the silence was recorded.
func newNoise(silence []float64, rate float64) noise {
	n := int(rate)
	fft := fourier.NewFFT(n)
	shape := window.Hann(slices.Repeat([]float64{1}, n))
	var weight float64
	for _, w := range shape {
		weight += w * w
	}
	d := make(noise, n/2+1)
	count := 0.0
	for first := 0; first+n <= len(silence); first += n / 2 {
		x := make([]float64, n)
		for i := range x {
			x[i] = silence[first+i] * shape[i]
		}
		for i, c := range fft.Coefficients(nil, x) {
			d[i] += (real(c)*real(c) + imag(c)*imag(c)) / weight
		}
		count++
	}
	if count == 0 {
		return nil
	}
	for i := range d {
		d[i] = max(d[i]/count, digital)
	}
	return d
}

// digital is the density of noise 150 dB below full scale, which no recording reaches. Anything
// below it is digital silence.
const digital = 1e-17

// at returns the density at f in Hz.
func (d noise) at(f float64) float64 {
	i := max(0, min(len(d)-2, int(f)))
	share := max(0, min(1, f-float64(i)))
	return d[i] + share*(d[i+1]-d[i])
}

// inResponse returns the power of the noise in a response of the given length in s, at f in Hz.
// Noise of density D over the power of the sweep is what an inverse filter leaves of it.
func (v *inverse) inResponse(d noise, f, length float64) float64 {
	line := int(math.Round(f * float64(v.n) / v.rate))
	return d.at(f) * length * v.rate / (v.power[line] + v.s.regularisation(f))
}

// table returns the noise on the scale of a response, in steps of 1 Hz.
func (v *inverse) table(d noise, length float64) *measure.Table {
	t := &measure.Table{}
	band := v.s.Band()
	for f := math.Ceil(band.Min); f <= band.Max; f++ {
		t.Frequencies = append(t.Frequencies, f)
		t.Levels = append(t.Levels, model.PowerLevel(max(v.inResponse(d, f, length), 1e-30)))
	}
	return t
}

// Hum is a tone of the mains in the silence.
type Hum struct {
	Mains     float64     // 50 or 60 Hz
	Frequency float64     // its harmonic that stands out most, Hz
	Above     model.Level // over the noise beside it, dB
	Multiples []float64   // of the mains: all that stand out
	Taken     model.Level // by how much it was lowered in the response where it was least, dB
}

// humAbove is how far a line must stand out, dB, and be so at twice the mains' frequency or at
// the mains' own.
const humAbove = model.Level(12)

// hum looks for the mains and its harmonics. The zero value is none.
func (d noise) hum(band model.Range) Hum {
	var most Hum
	multiples := map[float64][]float64{}
	for _, mains := range []float64{50, 60} {
		for f := mains; f+10 < band.Max && int(f)+10 < len(d); f += mains {
			i := int(f)
			var beside []float64
			for k := 4; k <= 9; k++ {
				beside = append(beside, d[i-k], d[i+k])
			}
			slices.Sort(beside)
			above := model.PowerLevel(max(d[i-1], d[i], d[i+1]) / max(beside[len(beside)/2], math.SmallestNonzeroFloat64))
			if above <= humAbove {
				continue
			}
			if multiples[mains] = append(multiples[mains], f/mains); above > most.Above {
				most = Hum{Mains: mains, Frequency: f, Above: above}
			}
		}
	}
	most.Multiples = multiples[most.Mains]
	return most
}
