package decay

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"evenbass/model"
)

// evaluate reads the decay of a squared envelope that begins with the sound.
func evaluate(e []float64, step float64) Band {
	b := Band{Step: step, Curvature: math.NaN()}
	peak := floats.Max(e)
	if peak <= 0 {
		return b
	}
	t := findTail(e, step)
	b.Range = min(model.PowerLevel(peak/t.floor), quietest)
	b.Truncated, b.Cut = float64(t.end)*step, t.noise == 0
	beyond := 0.0
	if t.rate < 0 {
		// ∫ of an exponential that falls by rate dB per step, from the step before t.end on.
		beyond = math.Pow(10, t.level/10) * 10 / (math.Ln10 * -t.rate)
	}
	b.Curve = backward(e[:t.end], t.noise, beyond)
	b.fit()
	return b
}

// backward returns the backward-integrated energy less a noise by the trapezoidal rule, plus
// what lies beyond the last step, in dB re its beginning.
func backward(e []float64, noise, beyond float64) []float64 {
	curve := make([]float64, len(e))
	last := len(e) - 1
	sum := beyond
	curve[last] = sum
	for i := last - 1; i >= 0; i-- {
		sum = max(sum+(e[i]+e[i+1])/2-noise, 0)
		curve[i] = sum
	}
	whole := curve[0]
	for i, v := range curve {
		curve[i] = 10 * math.Log10(v/whole)
	}
	return curve
}

// fit reads the decay times off the curve, as far as the range allows.
func (b *Band) fit() {
	if b.Range >= rangeEDT {
		b.EDT = decayTime(b.Curve, b.Step, 0, -10)
	}
	if b.Range >= rangeT20 {
		b.T20 = decayTime(b.Curve, b.Step, -5, -25)
	}
	if b.Range >= rangeT30 {
		b.T30 = decayTime(b.Curve, b.Step, -5, -35)
	}
	if b.T20 > 0 && b.T30 > 0 {
		b.Curvature = 100 * (b.T30/b.T20 - 1)
	}
}

// decayTime returns the time in s to fall by 60 dB on the line of least squares through a
// curve between two levels in dB; 0 if the curve does not go there.
func decayTime(curve []float64, step, from, to float64) float64 {
	var t, level []float64
	for i, l := range curve {
		if l < to {
			if len(t) < 2 {
				return 0
			}
			_, slope := stat.LinearRegression(t, level, nil, false)
			return -60 / slope
		}
		if l <= from {
			t, level = append(t, float64(i)*step), append(level, l)
		}
	}
	return 0
}
