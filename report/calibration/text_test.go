package calibration

import (
	"encoding/json"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	fit "evenbass/model/measure/calibration"
	"evenbass/report/reporttest"
)

// learned is a result with one thing of each kind to say.
func learned() Report {
	wall := model.Surface{Construction: "brick plastered"}
	p := &model.Project{
		Room:     model.Room{Size: r3.Vec{X: 4.2, Y: 3.39, Z: 2.4}, Walls: [6]model.Surface{wall, wall, wall, wall, wall, wall}},
		Speakers: model.Speakers{LowLimit: 40},
	}
	r := &fit.Result{
		Calibration: model.Calibration{Seats: 1, Before: 2.4, After: 0.9},
		Balance:     model.Fitted{Value: -1.2, Deviation: 0.2}, Limit: model.Fitted{Value: 1.2, Deviation: 0.05},
		Fits:     []fit.MeasurementFit{{Name: "chair left", Complex: true, Before: 2.4, After: 0.9}},
		Mismatch: 0.8, Engine: model.ModeEngine,
	}
	for i := range r.Walls {
		r.Walls[i] = model.WallFit{Shift: model.Fitted{Value: 0, Deviation: 0.2}, Slope: model.Fitted{Value: 0, Deviation: 0.2}}
	}
	r.Walls[model.Back] = model.WallFit{Shift: model.Fitted{Value: 0.4, Deviation: 0.2}, Slope: model.Fitted{Value: -0.8, Deviation: 0.1}}
	r.Walls[model.Left].Shift.Deviation = 0.65
	r.Calibration.Size = [3]model.Fitted{{Value: 0.002, Deviation: 0.005}, {Value: -0.1, Deviation: 0.01}, {Value: 0.001, Deviation: 0.02}}
	r.Seats = []fit.Offset{{Name: "chair", By: [3]model.Fitted{{Value: -0.08, Deviation: 0.02}, {Value: 0.005, Deviation: 0.02}, {Value: 0, Deviation: 0.03}}}}
	r.Speakers[0].Name, r.Speakers[1].Name = "left speaker", "right speaker"
	r.Next = []fit.Gain{
		{Place: fit.Place{Seat: "sofa", At: r3.Vec{X: 3.5, Y: 1.1, Z: 1.05}}, Speakers: []model.Source{model.LeftSpeaker, model.RightSpeaker}, Before: 0.94, After: 0.61},
		{Place: fit.Place{At: r3.Vec{X: 1, Y: 1, Z: 1.05}}, Before: 0.94, After: 0.7},
	}
	return Report{Project: p, Result: r}
}

// TestTextOfWool holds the report of a room that is no plain box to what was fitted of its wool, and to
// saying that its size was not.
func TestTextOfWool(t *testing.T) {
	for _, c := range []struct {
		wool model.Fitted
		want string
	}{
		{model.Fitted{Value: 1.31, Deviation: 0.09}, "the flow resistivity of all wool seems to be 1.3 times what the file says (± 0.1)"},
		{model.Fitted{Value: 1.02, Deviation: 0.24}, "the flow resistivity of the wool: the measurements hardly narrowed its range"},
	} {
		r := learned()
		r.Result.Engine, r.Result.Resistivity = model.WaveEngine, c.wool
		got, err := Text(r)
		if err != nil {
			t.Fatal(err)
		}
		got = strings.Join(strings.Fields(got), " ")
		for _, want := range []string{c.want, "at 1 seat (wave engine", "only those of a plain, empty room are fitted"} {
			if !strings.Contains(got, want) {
				t.Errorf("the report does not say %q:\n%s", want, got)
			}
		}
		if strings.Contains(got, "whether the height by tape is right") {
			t.Error("a size that nobody fitted is listed by itself")
		}
	}
}

// TestText holds the report to saying each finding in the owner's words.
func TestText(t *testing.T) {
	got, err := Text(learned())
	if err != nil {
		t.Fatal(err)
	}
	got = strings.Join(strings.Fields(got), " ")
	for _, want := range []string{
		"after it, at 1 seat (mode engine",
		"differed by 2.4 dB rms before the calibration and differ by 0.9 dB after it, at 1 seat",
		"the back wall absorbs more than usual below 63 Hz",
		"the front wall, the right wall, the floor and the ceiling absorb as much as usual",
		"your resonance at 52.2 Hz along the width suggests 329 cm (± 1.0 cm); you typed 339 cm", // c = 343.2 m/s: 343.2/(2·3.29)
		"the microphone at chair seems to have stood 8.0 cm nearer to the front wall (± 2.0 cm)",
		"the right speaker plays 1.2 dB louder than the other",
		"low limit seems to be 48.0 Hz; the file says 40.0 Hz",
		"how much the left wall absorbs: the measurements hardly narrowed",
		"whether the height by tape is right",
		"measure at a second seat",
		"put the microphone at sofa (350 cm from the front wall, 110 cm from the left wall, 105 cm above the floor) and measure left and right",
		"Of 2 places tried this teaches most: it should cut the uncertainty of the levels at the seats after a calibration from ±0.9 dB to ±0.6 dB",
		"Nothing was written.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the report does not say %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "along the length suggests") || strings.Contains(got, "the front wall, the left wall") {
		t.Errorf("the report says what the data did not tell:\n%s", got)
	}
}

// TestHeadlineWarns holds the headline to saying when a calibration did not help.
func TestHeadlineWarns(t *testing.T) {
	r := learned()
	r.Result.Calibration.After = 2.39
	if got := r.headline(); !strings.Contains(got, "did not bring the model closer") {
		t.Error(got)
	}
	r.Result.Calibration.After, r.Result.Mismatch = 1.9, 2
	if got := r.headline(); !strings.Contains(got, "larger than this model of the room explains") {
		t.Error(got)
	}
}

// TestJSON holds the figures to what the result has.
func TestJSON(t *testing.T) {
	b := reporttest.Written(t, JSON, learned())
	var d struct {
		Engine string `json:"engine"`
		Walls  []struct {
			Wall  string `json:"wall"`
			Shift struct {
				Value  float64 `json:"value"`
				Learnt bool    `json:"learnt"`
			} `json:"shift"`
		} `json:"walls"`
		Size map[string]struct {
			Value float64 `json:"value"`
		} `json:"size_above_tape_m"`
	}
	if err := json.Unmarshal([]byte(b), &d); err != nil {
		t.Fatal(err)
	}
	if d.Engine != "mode" || d.Walls[model.Back].Shift.Value != 0.4 || !d.Walls[model.Back].Shift.Learnt || d.Walls[model.Left].Shift.Learnt || d.Size["width"].Value != -0.1 {
		t.Errorf("wrong figures:\n%s", b)
	}
}
