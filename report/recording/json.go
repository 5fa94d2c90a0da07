package recording

import (
	"io"
	"math"

	"evenbass/model/measure"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// document is what was measured, in JSON. A value that is not known is null or left out.
type document struct {
	Recording    string           `json:"recording"`
	Invented     bool             `json:"invented,omitempty"`
	Quality      *qualityDoc      `json:"quality,omitempty"`
	Goal         data.Goal        `json:"goal"`
	Measurements []measurementDoc `json:"measurements"`
	Warnings     []string         `json:"warnings"`
}

// qualityDoc is how good a recording is.
type qualityDoc struct {
	Start   data.Fixed  `json:"start_s"`
	Drift   data.Fixed  `json:"clock_drift_ppm"`
	Peak    data.Fixed  `json:"peak_db_full_scale"`
	Clipped data.Fixed  `json:"clipped_share"`
	Hum     *data.Fixed `json:"hum_hz"`
	Sum     *data.Fixed `json:"left_plus_right_rest_db"`
	Later   *data.Fixed `json:"right_later_s"`
}

// measurementDoc is one measurement.
type measurementDoc struct {
	Name       string        `json:"name"`
	File       string        `json:"file,omitempty"`
	Seat       string        `json:"seat"`
	Speaker    string        `json:"speaker"`
	Date       string        `json:"date,omitempty"`
	State      []string      `json:"state"` // null if not known
	Unknown    []string      `json:"unknown"`
	Signal     *data.Fixed   `json:"above_noise_db"`
	Distortion []harmonicDoc `json:"distortion,omitempty"`
	Card       card.Doc      `json:"card"`
	From       data.Fixed    `json:"card_from_hz"`
	To         data.Fixed    `json:"card_to_hz"`
	Decays     []DecayPoint  `json:"decays,omitempty"` // in third octaves
	Modes      []ModePoint   `json:"modes,omitempty"`
}

type harmonicDoc struct {
	Frequency data.Fixed `json:"frequency_hz"`
	Share     data.Fixed `json:"share"`
	Floor     data.Fixed `json:"noise_share"`
}

// JSON writes what was measured as a document: the quality of the recording, and each measurement
// with its card and what it cannot tell. Frequencies in Hz, levels in dB, times in s.
func (r Report) JSON(w io.Writer) error {
	d := document{
		Recording: r.Recording, Invented: InventedAll(r.Measurements...), Goal: data.NewGoal(r.Goal),
	}
	warnings := r.Warnings
	if r.Result != nil {
		q := r.Result.Quality
		d.Quality = &qualityDoc{
			Start: data.Rounded(q.Start, 4), Drift: data.Rounded(q.Drift*1e6, 2), Peak: data.Decibel(q.Peak), Clipped: data.Rounded(q.Clipped, 5),
			Sum: known(float64(q.Sum), 1), Later: known(q.Later, 6),
		}
		if q.Hum.Mains > 0 {
			d.Quality.Hum = known(q.Hum.Frequency, 0)
		}
		warnings = append(warnings[:len(warnings):len(warnings)], r.Result.Warnings...)
	}
	d.Warnings = append([]string{}, text.WarningTexts(warnings, unit.Metric)...)
	for i := range r.Measurements {
		d.Measurements = append(d.Measurements, r.measurementDoc(i))
	}
	return data.WriteJSON(w, d)
}

func (r Report) measurementDoc(i int) measurementDoc {
	m, c := r.Measurements[i], r.Cards[i]
	d := measurementDoc{
		Name: r.Name(i), Seat: m.Seat, Speaker: m.Speaker.String(), Date: m.Date, Unknown: unknown(m),
		Card: card.NewDoc(&card.State{Card: response.Ranged{Card: c}}, nil), From: data.Hertz(c.Goal.From), To: data.Hertz(c.Goal.To),
	}
	if r.Analyses != nil {
		d.Decays, d.Modes = DecayPoints(r.Analyses[i]), ModePoints(r.Analyses[i])
	}
	if m.StateKnown {
		d.State = append([]string{}, m.State...)
	}
	if saved := i - (len(r.Measurements) - len(r.Files)); saved >= 0 && len(r.Files) > 0 {
		d.File = r.Files[saved]
	}
	if r.Result != nil {
		p := r.Result.Parts[i]
		d.Signal = known(float64(p.Signal), 1)
		for _, h := range p.Distortion {
			d.Distortion = append(d.Distortion, harmonicDoc{data.Hertz(h.Frequency), data.Rounded(h.Share, 5), data.Rounded(h.Floor, 5)})
		}
	}
	return d
}

// known returns a value, nil for one that is not a number.
func known(v float64, places int) *data.Fixed {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return new(data.Rounded(v, places))
}

// unknown names what a measurement cannot tell.
func unknown(m *measure.Measurement) []string {
	list := []string{}
	for _, d := range m.Doubts().List() {
		list = append(list, d.String())
	}
	return list
}
