package calibration

import (
	"io"

	"evenbass/model"
	"evenbass/report/data"
	"evenbass/report/present"
)

// fittedData is a figure with its standard deviation.
type fittedData struct {
	Value     data.Fixed `json:"value"`
	Deviation data.Fixed `json:"deviation"`
	Learnt    *bool      `json:"learnt,omitempty"`
}

type wallData struct {
	Wall  string     `json:"wall"`
	Shift fittedData `json:"shift"`
	Slope fittedData `json:"slope_per_octave"`
	Curve fittedData `json:"curve_per_octave_squared"`
}

type fitData struct {
	Name   string     `json:"name"`
	Phase  bool       `json:"phase_counted"`
	Before data.Fixed `json:"before_db"`
	After  data.Fixed `json:"after_db"`
}

type offsetData struct {
	Name string        `json:"name"`
	By   [3]fittedData `json:"by_m"`
}

type document struct {
	Engine      model.EngineKind      `json:"engine"`
	Before      data.Fixed            `json:"before_db"`
	After       data.Fixed            `json:"after_db"`
	Mismatch    data.Fixed            `json:"mismatch"`
	Fits        []fitData             `json:"measurements"`
	Walls       []wallData            `json:"walls"`
	Size        map[string]fittedData `json:"size_above_tape_m"`
	Temperature fittedData            `json:"temperature_above_file_k"`
	Resistivity *fittedData           `json:"resistivity_ratio"` // null without wool
	Balance     fittedData            `json:"left_above_right_db"`
	Offsets     []offsetData          `json:"offsets"`
	Next        *present.GainDoc      `json:"next_measurement,omitempty"`
}

func fitted(f model.Fitted) fittedData {
	return fittedData{Value: data.Rounded(f.Value, 4), Deviation: data.Rounded(f.Deviation, 4)}
}

// JSON writes the report's figures.
func JSON(w io.Writer, r Report) error {
	c := &r.Result.Calibration
	d := document{
		Engine: r.Result.Engine, Before: data.Decibel(c.Before), After: data.Decibel(c.After), Mismatch: data.Rounded(r.Result.Mismatch, 3),
		Temperature: fitted(r.Result.Temperature), Balance: fitted(r.Result.Balance), Size: map[string]fittedData{}, Next: present.NewGainDoc(r.Result.Next),
	}
	if w := r.Result.Resistivity; w.Set() {
		one, learnt := fitted(w), r.Result.WoolLearnt()
		one.Learnt = &learnt
		d.Resistivity = &one
	}
	for _, f := range r.Result.Fits {
		d.Fits = append(d.Fits, fitData{f.Name, f.Complex, data.Decibel(f.Before), data.Decibel(f.After)})
	}
	for _, f := range model.Faces {
		one := wallData{f.Wall(), fitted(r.Result.Walls[f].Shift), fitted(r.Result.Walls[f].Slope), fitted(r.Result.Walls[f].Curve)}
		learnt := r.Result.WallLearnt(f)
		one.Shift.Learnt = &learnt
		d.Walls = append(d.Walls, one)
	}
	for i, name := range []string{"length", "width", "height"} {
		one, learnt := fitted(c.Size[i]), r.Result.SizeLearnt(i)
		one.Learnt = &learnt
		d.Size[name] = one
	}
	for _, o := range append(r.Result.Speakers[:], r.Result.Seats...) {
		d.Offsets = append(d.Offsets, offsetData{o.Name, [3]fittedData{fitted(o.By[0]), fitted(o.By[1]), fitted(o.By[2])}})
	}
	return data.WriteJSON(w, d)
}
