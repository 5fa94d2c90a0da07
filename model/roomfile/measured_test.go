package roomfile

import (
	"strings"
	"testing"

	"evenbass/model"
)

const someMeasurements = `treatments:
  - {name: rear layer, wall: back, layers: [film 100 µm, wool 200 mm 6 kPa·s/m²]}
measurements:
  - {file: before.txt, speaker: left, state: bare, date: 3 May, smoothing: none}
  - {name: after, file: data/after.wav, seat: chair, speaker: both, state: [rear layer], correction: mic.txt}
  - {name: table, file: before.txt, speaker: sub, state: rear layer, smoothing: 1/12 octave}
`

func TestMeasurements(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", someMeasurements))
	want := []model.Measured{
		{File: "before.txt", Speaker: model.LeftSpeaker, StateKnown: true, Date: "3 May", Smoothing: model.Unsmoothed},
		{Name: "after", File: "data/after.wav", Seat: p.Seats[0].Name, Speaker: model.BothSpeakers, State: []string{"rear layer"}, StateKnown: true, Correction: "mic.txt"},
		{Name: "table", File: "before.txt", Speaker: model.SubSpeaker, State: []string{"rear layer"}, StateKnown: true, Smoothing: 12},
	}
	if !same(want, p.Measurements) {
		t.Errorf("measurements %+v", p.Measurements)
	}
	if back := readText(t, written(t, p)); !same(p, back) {
		t.Errorf("reads back as %+v", back.Measurements)
	}
}

// An option may remove a treatment that stood when something was measured.
func TestMeasurementsBesideOptions(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", someMeasurements+"options:\n  - {name: without, remove: [rear layer]}\n"))
	if _, err := p.With(&p.Options[0]); err != nil || len(p.Measurements) != 3 {
		t.Errorf("%d measurements, %v", len(p.Measurements), err)
	}
}

func TestMeasurementsThatCannotBe(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, at, what string }{
		{"measurements: [{speaker: left}]", "measurements[0].file", "is missing"},
		{"measurements: [{file: a.txt}]", "measurements[0].speaker", "is missing"},
		{"measurements: [{file: a.txt, speaker: top}]", "measurements[0].speaker", "not one of left, right, both, sub"},
		{"measurements: [{file: a.txt, speaker: left, seat: roof}]", "measurements[0].seat", `"roof" is no seat; the seats are "`},
		{"measurements: [{file: a.txt, speaker: left, state: [shelf]}]", "measurements[0].state[0]", `"shelf" is no treatment`},
		{"measurements: [{file: a.txt, speaker: left}, {file: a.txt, speaker: right}]", "measurements[1]", "give it a name of its own"},
		{"measurements: [{file: a.txt, speaker: left, smoothing: heavy}]", "measurements[0].smoothing", "heavy"},
		{"measurements: [{file: a.txt, speaker: left, speeker: left}]", "measurements[0]", "unknown key"},
	} {
		found := false
		faults := faultsOf(t, strings.NewReader(around("", c.text)))
		for _, f := range faults {
			found = found || f.Path == c.at && strings.Contains(f.What, c.what)
		}
		if !found {
			t.Errorf("%s: no fault at %s that says %q: %v", c.text, c.at, c.what, faults)
		}
	}
}
