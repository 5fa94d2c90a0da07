package present

import (
	"math"

	"evenbass/model/measure/diagnosis"
	"evenbass/optimize/observation"
	"evenbass/report/data"
)

// Doc is what was measured in JSON.
type Doc struct {
	Speakers []speakerDoc `json:"speakers"`
	Faults   []faultDoc   `json:"faults"` // the most prominent first
	Next     string       `json:"next"`
	Gain     *GainDoc     `json:"next_measurement,omitempty"`
}

type speakerDoc struct {
	Name       string      `json:"measurement"`
	Speaker    string      `json:"speaker"`
	Invented   bool        `json:"invented,omitempty"` // nobody measured it
	Spread     data.Fixed  `json:"spread_db"`
	Predicted  *data.Fixed `json:"predicted_spread_db"`
	Difference *data.Fixed `json:"mean_difference_db"` // of the curves
}

type faultDoc struct {
	Speaker   string      `json:"speaker"`
	Kind      string      `json:"kind"` // dip or peak
	Frequency data.Fixed  `json:"frequency_hz"`
	Level     data.Fixed  `json:"level_re_mean_db"`
	Cause     string      `json:"cause"`
	Mode      *data.Fixed `json:"mode_hz,omitempty"`
	Other     *data.Fixed `json:"other_speaker_db,omitempty"` // level there
}

// causeNames are those of [diagnosis.Cause] in JSON.
var causeNames = [...]string{
	diagnosis.Open: "open", diagnosis.Mode: "mode", diagnosis.SpeakerPlace: "place of the speaker", diagnosis.SeatPlace: "place of the seat", diagnosis.RollOff: "roll-off",
}

// stepNames are those of [diagnosis.Step] in JSON.
var stepNames = [...]string{
	diagnosis.NothingOpen: "nothing", diagnosis.MeasureImpulse: "measure an impulse response", diagnosis.MeasureOther: "measure the other speaker",
	diagnosis.MoveSpeaker: "move the speaker", diagnosis.MoveSeat: "move the seat", diagnosis.ShortenDecay: "shorten the decay", diagnosis.CheckSpeaker: "measure close to the woofer",
}

// NewDoc returns nil if nothing was measured.
func NewDoc(p *observation.Present) *Doc {
	if p == nil {
		return nil
	}
	d := &Doc{Next: stepNames[p.Next.Step], Faults: []faultDoc{}, Gain: NewGainDoc(p.Gains)}
	for i := range p.Speakers {
		s := &p.Speakers[i]
		one := speakerDoc{Name: s.Measured.Measurement.Name, Speaker: s.Speaker.String(), Invented: s.Invented(), Spread: data.Decibel(s.Measured.Card.Spread)}
		if c := s.Comparison; c != nil {
			one.Predicted, one.Difference = new(data.Decibel(c.Before.Card.Spread)), new(data.Decibel(c.Typical))
		}
		d.Speakers = append(d.Speakers, one)
	}
	for _, f := range p.Faults {
		one := faultDoc{
			Speaker: f.Speaker.String(), Kind: map[bool]string{false: "dip", true: "peak"}[f.Feature.Peak],
			Frequency: data.Hertz(f.Feature.Frequency), Level: data.Decibel(f.Feature.Level), Cause: causeNames[f.Cause],
		}
		if f.Mode != nil {
			one.Mode = new(data.Hertz(f.Mode.Frequency))
		}
		if other := f.Other; !math.IsNaN(float64(other)) {
			one.Other = new(data.Decibel(other))
		}
		d.Faults = append(d.Faults, one)
	}
	return d
}
