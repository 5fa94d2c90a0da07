package decay

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/response"
)

// Band is how fast the sound of one third octave decays.
type Band struct {
	Nominal   float64     // nominal mid-frequency, Hz (ISO 266)
	Centre    float64     // exact mid-frequency, Hz (IEC 61260-1)
	EDT       float64     // s to fall by 60 dB at the rate of the first 10 dB; 0 is not known
	T20, T30  float64     // the same from -5 to -25 and to -35 dB; 0 if noise hides it
	Limit     float64     // s: the filter cannot resolve shorter decay times
	Curvature float64     // C in %; NaN without T20 or T30
	Range     model.Level // of the loudest sound above the noise, or above where the record ends
	Truncated float64     // s after the sound begins at which the integration ends
	Cut       bool        // the record stops before the sound has sunk into noise

	// Curve is the backward-integrated level in dB re its beginning, in steps of Step s from
	// where the sound begins up to Truncated.
	Curve []float64
	Step  float64
}

// Levels that the fits run between, dB, and what ISO 3382-1 asks a response to stand above
// the noise.
const (
	rangeEDT = 25
	rangeT20 = 35
	rangeT30 = 45
)

// bent is the curvature in % from which ISO 3382-2 annex B doubts a decay.
const bent = 10

// Time returns the best decay time that the band gives, T30 or else T20, and its name.
// It is 0 and "" if noise hides both.
func (b Band) Time() (t float64, name string) {
	switch {
	case b.T30 > 0:
		return b.T30, "T30"
	case b.T20 > 0:
		return b.T20, "T20"
	}
	return 0, ""
}

// Resolved reports whether the decay is slow enough for the filter: an exact exponential
// then reads within 10 %.
func (b Band) Resolved() bool {
	t, _ := b.Time()
	return t >= b.Limit
}

// Bent reports whether the decay has more than one slope, so that no single time describes it.
// It is false where the filter cannot resolve the decay.
func (b Band) Bent() bool { return b.Resolved() && math.Abs(b.Curvature) > bent }

// bands are the third octaves that are read, Hz: nominal, and number as in response.Band.
var bands = [...]struct {
	nominal float64
	number  int
}{
	{25, -16}, {31.5, -15}, {40, -14}, {50, -13}, {63, -12}, {80, -11}, {100, -10}, {125, -9},
	{160, -8}, {200, -7}, {250, -6}, {315, -5},
}

// Read returns the decay of an impulse response in each third octave from 25 to 315 Hz.
// Samples come at a rate in Hz; begin is the sample at which the sound begins, see [Onset].
// It fails if the rate cannot hold 315 Hz, if less than 0.2 s follows begin, or if a sample
// is not a number.
func Read(samples []float64, rate float64, begin int) ([]Band, error) {
	if err := check(samples, rate, begin); err != nil {
		return nil, err
	}
	s := newSpectrum(samples, rate)
	list := make([]Band, len(bands))
	for i, b := range bands {
		lower, centre, upper := response.Band(3, b.number)
		e := s.energy(centre, 1.0/3)
		// The filter spreads the record's end over 2/B: what lies there is neither sound nor noise.
		last := float64(len(samples))/rate - 2/(upper-lower)
		from, to := int(math.Round(float64(begin)/rate/e.step)), min(len(e.values), int(last/e.step))
		band := Band{Step: e.step, Curvature: math.NaN()}
		if float64(to-from)*e.step > leastSpan {
			band = evaluate(e.values[from:to], e.step)
		}
		band.Nominal, band.Centre, band.Limit = b.nominal, centre, 4/(upper-lower)
		list[i] = band
	}
	return list, nil
}

// leastSpan is the shortest part of a band in s that says anything, once the filter's own
// spread is taken off.
const leastSpan = 0.1

func check(samples []float64, rate float64, begin int) error {
	switch {
	case !(rate >= 1000 && rate <= 1e6):
		return fmt.Errorf("decay: a rate of %g Hz; it must be 1000 Hz or more", rate)
	case begin < 0 || begin >= len(samples):
		return fmt.Errorf("decay: the sound begins at sample %d of %d", begin, len(samples))
	case float64(len(samples)-begin) < 0.2*rate:
		return fmt.Errorf("decay: %.2f s of response; 0.2 s is the least", float64(len(samples)-begin)/rate)
	}
	for i, v := range samples {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("decay: sample %d is not a number", i)
		}
	}
	return nil
}

// Onset returns the sample at which the sound of an impulse response begins: the first that
// comes within 10 dB of the greatest. What lies lower may be the ringing of a filter ahead of the
// sound. It is 0 for a silent response.
func Onset(samples []float64) int { return within(samples, 10) }

// SureOnset returns [Onset], and whether the sound begins so suddenly that the sample is right
// within a millisecond: it comes within 16 and within 6 dB of the greatest in that time. In a
// room that rings, the direct sound may be softer than what follows.
func SureOnset(samples []float64, rate float64) (begin int, sure bool) {
	return Onset(samples), float64(within(samples, 6)-within(samples, 16)) <= 1e-3*rate
}

// within returns the first sample that comes within so many dB of the greatest; 0 in silence.
func within(samples []float64, db float64) int {
	var peak float64
	for _, v := range samples {
		peak = max(peak, math.Abs(v))
	}
	limit := peak * math.Pow(10, -db/20)
	for i, v := range samples {
		if math.Abs(v) >= limit {
			return i
		}
	}
	return 0
}
