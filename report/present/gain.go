package present

import (
	"fmt"
	"strings"

	"evenbass/model/measure/calibration"
	"evenbass/optimize/observation"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// worthwhile is how much a measurement must narrow the predictions to be worth making, dB. Our own limit, no
// source.
const worthwhile = 0.1

// GainLine says which measurement would teach most and how much; "" if that is not known.
func GainLine(gains []calibration.Gain, style unit.Style) string {
	if len(gains) == 0 {
		return ""
	}
	g := gains[0]
	if g.Before-g.After < worthwhile {
		return fmt.Sprintf("To predict better: further measurements teach little. A calibration leaves the levels at the seats uncertain by %s (standard deviation). The best of %[3]s tried would cut that by less than %[2]s.",
			unit.Spread(g.Before), unit.Difference(worthwhile), text.Count(len(gains), "place"))
	}
	var speakers []string
	for _, s := range g.Speakers {
		speakers = append(speakers, s.String())
	}
	at := fmt.Sprintf("%s from the front wall, %s from the left wall, %s above the floor", style.Tape(g.Place.At.X), style.Tape(g.Place.At.Y), style.Tape(g.Place.At.Z))
	if g.Place.Seat != "" {
		at = fmt.Sprintf("at %s (%s)", text.Printable(g.Place.Seat), at)
	}
	return fmt.Sprintf("To predict better: put the microphone %s and measure %s. Of %s tried this teaches most: it should cut the uncertainty of the levels at the seats after a calibration from %s to %s (standard deviation).",
		at, strings.Join(speakers, " and "), text.Count(len(gains), "place"), unit.Spread(g.Before), unit.Spread(g.After))
}

// Teaching says which measurement would teach most, or what says so where that takes long; "" if neither is known.
func Teaching(p *observation.Present, style unit.Style) string {
	if p.Costly && p.Prediction != nil {
		return "To predict better: run evenbass calibrate, which says where to measure next. This room needs the wave solver, so that takes a minute or more and is left out here."
	}
	return GainLine(p.Gains, style)
}

// GainDoc is the measurement that would teach most, in JSON.
type GainDoc struct {
	Seat     string        `json:"seat,omitempty"`
	At       [3]data.Fixed `json:"at_m"`
	Speakers []string      `json:"speakers"`
	Before   data.Fixed    `json:"deviation_db"` // of the predicted levels at the seats
	After    data.Fixed    `json:"expected_deviation_db"`
}

// NewGainDoc returns nil if no measurement is known to teach more.
func NewGainDoc(gains []calibration.Gain) *GainDoc {
	if len(gains) == 0 {
		return nil
	}
	g := gains[0]
	d := &GainDoc{Seat: g.Place.Seat, At: [3]data.Fixed{data.Metres(g.Place.At.X), data.Metres(g.Place.At.Y), data.Metres(g.Place.At.Z)}, Before: data.Decibel(g.Before), After: data.Decibel(g.After)}
	for _, s := range g.Speakers {
		d.Speakers = append(d.Speakers, s.String())
	}
	return d
}
