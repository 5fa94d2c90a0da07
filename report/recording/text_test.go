package recording_test

import (
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/sweep"
	"evenbass/model/response"
	"evenbass/report/recording"
)

// TestTextSaysWhatIsUnknown holds the report to naming every doubt, warning and figure once.
func TestTextSaysWhatIsUnknown(t *testing.T) {
	nan := model.Level(math.NaN())
	m := &measure.Measurement{
		Seat: "it's a {chair}", Speaker: model.RightSpeaker, Date: "3 May", StateKnown: true, State: []string{"rear layer", "true"},
		Impulse: &measure.Impulse{Samples: []float64{1, 0}, Rate: 2000}, Unsure: measure.GainUnknown,
	}
	goal := model.Goal{From: 30, To: 300, Smoothing: 12}
	card := response.Card{Goal: goal, Spread: 6.25, Within: 0.875, Dip: response.Dip{Frequency: 87, Level: -14}}
	result := &sweep.Result{
		Parts:    []sweep.Part{{Measurement: m, Signal: nan, Least: nan}},
		Quality:  sweep.Quality{Start: 1.2, Peak: -7, Drift: -49.8e-6, Sum: nan, Later: 0.3e-3},
		Warnings: []model.Warning{model.Remark("the mains hums: 50 Hz stands 20 dB above the noise beside it")},
	}
	r := recording.Report{
		Recording: "a.wav", Result: result, Measurements: []*measure.Measurement{m}, Cards: []response.Card{card}, Goal: goal, Files: []string{"2-right.txt"},
	}
	got := recording.Text(r)
	for _, want := range []string{
		"begins after 1.2 s", "7.0 dB below full scale", "clock runs slow by 50 millionths", "right          n/a       n/a         n/a", "±6.2 dB", "88 %", "deepest dip −14.0 dB",
		"arrives 0.30 ms after that of the left one, as if it were 10.3 cm farther", "Gain: ", "Noise: ", "Time reference: ", "Temperature: ", "the mains hums",
		"- {file: '2-right.txt', seat: 'it''s a {chair}', speaker: right, date: '3 May', state: [rear layer, 'true']}",
	} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%q is not in\n%s", want, got)
		}
	}
	var doc strings.Builder
	if err := r.JSON(&doc); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"above_noise_db": null`, `"left_plus_right_rest_db": null`, `"right_later_s": 0.0003`, `"clock_drift_ppm": -49.8`, `"file": "2-right.txt"`, `"true"`} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("%s is not in\n%s", want, doc.String())
		}
	}
	if strings.Contains(got, "Phase: ") || strings.Contains(got, "State: ") || strings.Contains(got, "NaN") {
		t.Errorf("what is known is called unknown:\n%s", got)
	}
}
