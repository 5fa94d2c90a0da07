package measure

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model"
)

// Corrected returns a copy of the measurement with the response of the microphone taken out:
// the levels of its table, in dB by how much it reads too much, are subtracted, and so are its
// phases if it has any. Beyond the table's ends its last value holds. Of a table without phases the
// microphone's small phase at low frequencies is left in.
func (m *Measurement) Corrected(microphone *Table) *Measurement {
	c := *m
	c.Unsure &^= CorrectionUnknown
	c.Table, c.Noise = m.Table.less(microphone), m.Noise.less(microphone)
	if m.Impulse != nil {
		im := *m.Impulse
		im.Samples = filtered(im.Samples, im.Rate, func(f float64) complex128 {
			return cmplx.Rect((-microphone.level(f)).Ratio(), -microphone.phase(f))
		})
		c.Impulse = &im
	}
	return &c
}

// less returns a copy with the levels of another table subtracted, and with its phases if both have any;
// of nil, nil.
func (t *Table) less(other *Table) *Table {
	if t == nil {
		return nil
	}
	c := *t
	c.Levels = make([]model.Level, len(t.Levels))
	for i, f := range t.Frequencies {
		c.Levels[i] = t.Levels[i] - other.level(f)
	}
	if t.Phases != nil && other.Phases != nil {
		c.Phases = make([]float64, len(t.Phases))
		for i, f := range t.Frequencies {
			c.Phases[i] = math.Remainder(t.Phases[i]-other.phase(f), 2*math.Pi)
		}
	}
	return &c
}

// filtered returns the samples with their spectrum multiplied by a gain. As much silence follows
// them as there are samples, so that nothing wraps around.
func filtered(x []float64, rate float64, gain func(f float64) complex128) []float64 {
	n := 2
	for n < 2*len(x) {
		n *= 2
	}
	fft := fourier.NewFFT(n)
	y := make([]float64, n)
	copy(y, x)
	spectrum := fft.Coefficients(nil, y)
	for i := range spectrum {
		f := max(float64(i)*rate/float64(n), math.SmallestNonzeroFloat64)
		spectrum[i] *= gain(f) / complex(float64(n), 0)
	}
	return fft.Sequence(y, spectrum)[:len(x)]
}
