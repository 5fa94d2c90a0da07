package roomfile

import (
	"strings"
	"testing"

	"evenbass/model"
)

const allSubwoofers = `subwoofers:
  count: 3
  box: {depth: 42 cm, width: 15 in, height: 44 cm}
  driver_height: 28 cm
  low_limit: 24 Hz
  alignment: ported
  low_pass: 50 to 110 Hz
  filter: 4th order Butterworth
  mains_high_pass: 60 Hz
  gain: -10 dB to 3 dB
  delay: 0 to 15 ms
  polarity: normal
  stand: in corners
  may_stand: [{x: 0 m to 3 m}]
  now: [{at: [0.4 m, 0.4 m, 0.28 m]}]
`

func TestSubwoofers(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", allSubwoofers))
	s := p.Subwoofers
	if s.Count != 3 || s.Box != (model.Dimensions{Depth: 0.42, Width: 0.381, Height: 0.44}) || s.Height != 0.28 || s.RollOff() != (model.RollOff{Limit: 24, Alignment: model.Ported}) {
		t.Errorf("box %+v", s)
	}
	if s.LowPass != (model.Range{Min: 50, Max: 110}) || s.Filter != model.Butterworth4 || s.HighPass != 60 || s.Gain != (model.Range{Min: -10, Max: 3}) ||
		s.Delay != (model.Range{Max: 0.015}) || s.Polarity != model.NormalPolarity || s.Where != model.InCorners {
		t.Errorf("settings %+v", s)
	}
	if len(s.Zones) != 1 || s.Zones[0].X.Max != 3 || len(s.Placed) != 1 || s.Placed[0].Z != 0.28 {
		t.Errorf("places %+v", s)
	}
	if back := readText(t, written(t, p)); !same(p, back) {
		t.Errorf("reads back as %+v from\n%s", back.Subwoofers, written(t, p))
	}
}

func TestSubwooferDefaults(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", "subwoofers: {count: 1, box: {depth: 40 cm, width: 40 cm, height: 40 cm}, delay: 0 ms, gain: 0 dB}"))
	if s := p.Subwoofers; s.Filter != model.LinkwitzRiley4 || s.Delay != (model.Range{}) || s.Gain != (model.Range{}) || s.Where != model.AlongWalls {
		t.Errorf("%+v", s)
	}
	if back := readText(t, written(t, p)); !same(p, back) {
		t.Errorf("reads back as %+v", back.Subwoofers)
	}
	if p := readText(t, around("", "")); p.Subwoofers != nil {
		t.Errorf("subwoofers %+v out of nothing", p.Subwoofers)
	}
}

func TestSubwooferMistakes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ keys, want string }{
		{"box: {depth: 1 m}", "write count: 2"},
		{"count: two", "not a number of things"},
		{"count: 9", "must be 1 to 4 subwoofers"},
		{"count: 1, filter: 3rd order Butterworth", "did you mean"},
		{"count: 1, low_pass: 50 to 100", "no unit"},
		{"count: 1, low_pass: any", "write one value"},
		{"count: 1, gain: 3 Hz", "expected a level"},
		{"count: 1, delay: 0 to 30 ms", "within 0 to 20 ms"},
		{"count: 1, polarity: phase", "either, normal, reversed"},
		{"count: 1, stand: walls", "along walls, in corners, anywhere"},
		{"count: 1, sit: walls", "unknown key"},
		{"count: 1, box: {depth: 1 m}", "write width"},
		{"count: 1, may_stand: [{x: 8 m to 9 m}]", "must have a place"},
		{"count: 1, now: [{at: [9 m, 1 m, 1 m]}]", "beyond the back wall"},
	} {
		_, err := Read(strings.NewReader(around("", "subwoofers: {"+c.keys+"}")), "test")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.keys, err, c.want)
		}
	}
}
