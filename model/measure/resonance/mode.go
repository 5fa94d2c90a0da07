package resonance

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// Mode is one resonance of a room.
type Mode struct {
	Frequency float64 // Hz
	Rate      float64 // δ in 1/s; pressure decays as e^{-δt}

	// FrequencySpread and RateSpread are half the distances between the quartiles of what the
	// trials found, Hz and 1/s.
	FrequencySpread, RateSpread float64

	Confidence float64       // share of the trials in which the mode was found, 0 to 1
	Levels     []model.Level // of the mode's peak in each steady response, dB re the loudest of all
}

// DecayTime returns the time in s in which the mode falls by 60 dB, 3 ln10/δ.
func (m Mode) DecayTime() float64 { return 3 * math.Ln10 / m.Rate }

// Bandwidth returns the width of the mode's peak at half power in Hz, δ/π.
func (m Mode) Bandwidth() float64 { return m.Rate / math.Pi }

// Loudest returns the mode's level where it is loudest, dB.
func (m Mode) Loudest() model.Level { return slices.Max(m.Levels) }

// Response is an impulse response at one seat.
type Response struct {
	Samples []float64
	Begin   int // the sample at which the sound begins
}

// Settings say what to look for. The zero value is 20 to 300 Hz.
type Settings struct {
	From, To float64 // Hz; 0 is 20 and 300
	// Least is the lowest confidence of a mode that is listed; 0 is 0.5.
	Least float64
}

func (s Settings) filled() Settings {
	if s.To == 0 {
		s.From, s.To = cmp.Or(s.From, 20), 300
	}
	s.Least = cmp.Or(s.Least, 0.5)
	return s
}

// Find lists the modes in the responses of one room, ascending in frequency. All responses
// have the same rate in Hz. It fails if there is none, if one is shorter than half a second
// from where its sound begins, or if the range does not lie between 10 Hz and 0.4 times the rate.
func Find(responses []Response, rate float64, s Settings) ([]Mode, error) {
	s = s.filled()
	if err := check(responses, rate, s); err != nil {
		return nil, err
	}
	bands := cut(s)
	found := make([][]found, len(bands))
	concurrent.Each(len(bands), func(i int) error {
		found[i] = bands[i].modes(responses, rate, s.Least)
		return nil
	})
	return list(slices.Concat(found...)), nil
}

func check(responses []Response, rate float64, s Settings) error {
	switch {
	case len(responses) == 0:
		return fmt.Errorf("resonance: no responses")
	case !(s.From >= 10 && s.To > s.From && s.To <= 0.4*rate) || math.IsInf(rate, 0):
		return fmt.Errorf("resonance: modes from %g to %g Hz at a rate of %g Hz", s.From, s.To, rate)
	}
	for i, r := range responses {
		if r.Begin < 0 || float64(len(r.Samples)-r.Begin) < 0.5*rate {
			return fmt.Errorf("resonance: response %d has %d samples and begins at %d; half a second is the least", i+1, len(r.Samples), r.Begin)
		}
		for n, v := range r.Samples {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("resonance: sample %d of response %d is not a number", n, i+1)
			}
		}
	}
	return nil
}

// found is a mode with its amplitudes.
type found struct {
	Mode
	amplitudes []float64 // per response: of the mode's peak, A/δ
	clear      float64   // standard errors of A from nothing, where it stands out most
}

// A mode more than quiet below the loudest one is not listed, dB. Common practice, no source.
const quiet = -50

// list puts modes in order with their levels, without those found twice at the edge of two
// bands.
func list(all []found) []Mode {
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(a.Frequency, b.Frequency) })
	loudest := 0.0
	for _, m := range all {
		loudest = max(loudest, slices.Max(m.amplitudes))
	}
	var modes []Mode
	for _, m := range all {
		for _, a := range m.amplitudes {
			m.Levels = append(m.Levels, model.LevelOf(a/loudest))
		}
		if m.Loudest() < quiet {
			continue
		}
		if n := len(modes); n > 0 && m.Frequency-modes[n-1].Frequency < near(m.Rate)/2 && m.Rate/modes[n-1].Rate < 1.5 && modes[n-1].Rate/m.Rate < 1.5 {
			if m.Confidence > modes[n-1].Confidence {
				modes[n-1] = m.Mode
			}
			continue
		}
		modes = append(modes, m.Mode)
	}
	return modes
}
