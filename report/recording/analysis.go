package recording

import (
	"io"

	"evenbass/model/measure/analysis"
	"evenbass/report/data"
	"evenbass/report/unit"
)

// DecayPoint is the decay of a third octave in JSON. A time that cannot be read is left out.
type DecayPoint struct {
	Hz       float64 `json:"hz"`
	EDT      float64 `json:"edt_s,omitempty"`
	T20      float64 `json:"t20_s,omitempty"`
	T30      float64 `json:"t30_s,omitempty"`
	Least    float64 `json:"least_s"` // that the filter resolves
	Resolved bool    `json:"resolved"`
	Bent     bool    `json:"bent"`
}

// ModePoint is a mode that was found, in JSON.
type ModePoint struct {
	Hz         float64 `json:"hz"`
	DecayS     float64 `json:"decay_60_db_s"`
	Confidence float64 `json:"confidence"`
}

// DecayPoints returns the decays of an analysis.
func DecayPoints(a *analysis.Analysis) []DecayPoint {
	var list []DecayPoint
	for _, b := range a.Decays {
		list = append(list, DecayPoint{b.Nominal, unit.Round(b.EDT, 4), unit.Round(b.T20, 4), unit.Round(b.T30, 4), unit.Round(b.Limit, 4), b.Resolved(), b.Bent()})
	}
	return list
}

// ModePoints returns the modes of an analysis.
func ModePoints(a *analysis.Analysis) []ModePoint {
	var list []ModePoint
	for _, m := range a.Modes {
		list = append(list, ModePoint{unit.Round(m.Frequency, 3), unit.Round(m.DecayTime(), 4), unit.Round(m.Confidence, 3)})
	}
	return list
}

// DecayCSV writes the decay times of every measurement as comma-separated values, one row a
// measurement and third octave, times in s: EDT, T20, T30, the least that the filter resolves. Cells
// are empty where nothing can be read.
func (r Report) DecayCSV(w io.Writer) error {
	rows := [][]string{{"measurement", "hz", "edt_s", "t20_s", "t30_s", "least_s", "bent"}}
	for i, a := range r.Analyses {
		for _, d := range DecayPoints(a) {
			rows = append(rows, []string{data.SafeCell(r.Name(i)), data.Digits(d.Hz), seconds(d.EDT), seconds(d.T20), seconds(d.T30), seconds(d.Least), yesNo(d.Bent)})
		}
	}
	return data.WriteRows(w, rows)
}

// ModeCSV writes the modes found in every measurement, one row a measurement and mode: its frequency and
// time to fall by 60 dB with the margins of both, its level and the share of trials that found it.
func (r Report) ModeCSV(w io.Writer) error {
	rows := [][]string{{"measurement", "hz", "hz_margin", "decay_60_db_s", "decay_margin_s", "level_db", "confidence"}}
	for i, a := range r.Analyses {
		for _, m := range a.Modes {
			rows = append(rows, []string{
				data.SafeCell(r.Name(i)), data.Digits(unit.Round(m.Frequency, 3)), data.Digits(unit.Round(m.FrequencySpread, 3)), seconds(m.DecayTime()),
				seconds(m.DecayTime() * m.RateSpread / m.Rate), data.Level(m.Loudest()), data.Digits(unit.Round(m.Confidence, 3)),
			})
		}
	}
	return data.WriteRows(w, rows)
}

// seconds writes a time; none is empty.
func seconds(t float64) string {
	if t == 0 {
		return ""
	}
	return data.Digits(unit.Round(t, 4))
}

func yesNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}
