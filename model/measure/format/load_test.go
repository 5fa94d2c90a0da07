package format_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/format"
)

// folder serves files from memory.
type folder map[string]string

func (f folder) open(path string) (io.ReadCloser, error) {
	text, ok := f[path]
	if !ok {
		return nil, fmt.Errorf("there is no %s", path)
	}
	return io.NopCloser(strings.NewReader(text)), nil
}

func TestLoad(t *testing.T) {
	p := &model.Project{Seats: []model.Seat{{Name: "chair", Placed: true, At: r3.Vec{X: 2, Y: 1.7, Z: 1.2}}, {Name: "sofa"}}}
	p.Room.Temperature = 295
	var native bytes.Buffer
	if err := format.Write(&native, whole()); err != nil {
		t.Fatal(err)
	}
	files := folder{"a.txt": "20 3\n100 6\n200 0\n", "mic.txt": "20 -2\n100 -1\n", "own.txt": native.String(), "bad.txt": "20 x\n"}
	m, err := format.Load(p, &model.Measured{
		Name: "before", File: "a.txt", Speaker: model.LeftSpeaker, StateKnown: true, Correction: "mic.txt", Smoothing: model.Unsmoothed, Date: "3 May",
	}, files.open)
	if err != nil {
		t.Fatal(err)
	}
	if m.Name != "before" || m.Seat != "chair" || m.At.X != 2 || !m.StateKnown || m.Temperature != 295 || m.Date != "3 May" || m.Speaker != model.LeftSpeaker {
		t.Errorf("%+v", m)
	}
	if got := m.Table.Levels; got[0] != 5 || got[1] != 7 || got[2] != 1 {
		t.Errorf("corrected levels %v", got)
	}
	if want := measure.GainUnknown | measure.PhaseUnknown | measure.TimeUnknown | measure.NoiseUnknown; m.Doubts() != want {
		t.Errorf("in doubt of %v, want %v", m.Doubts(), want)
	}
	for _, c := range []struct {
		entry model.Measured
		want  string
	}{
		{model.Measured{File: "none.txt", Speaker: model.LeftSpeaker}, "there is no none.txt"},
		{model.Measured{File: "bad.txt", Speaker: model.LeftSpeaker}, `bad.txt:1: "x" is no number`},
		{model.Measured{File: "own.txt", Speaker: model.LeftSpeaker}, "says that right played"},
		{model.Measured{File: "own.txt", Speaker: model.RightSpeaker, Seat: "sofa"}, `measured at "chair", the room file says at "sofa"`},
		{model.Measured{File: "a.txt", Speaker: model.LeftSpeaker, Correction: "bad.txt"}, "bad.txt:1"},
	} {
		if _, err := format.Load(p, &c.entry, files.open); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.entry, err, c.want)
		}
	}
}

// TestCorrectedImpulse holds the correction of an impulse response to that of its levels.
func TestCorrectedImpulse(t *testing.T) {
	x := make([]float64, 2000)
	x[200], x[240] = 1, -0.5
	m := &measure.Measurement{Impulse: &measure.Impulse{Samples: x, Rate: 2000, Zero: 200}}
	mic := &measure.Table{Frequencies: []float64{10, 50, 1000}, Levels: []model.Level{-6, -1, 0}}
	grid := model.NewGrid(20, 300, 12, 0)
	before, err := m.Response(grid)
	if err != nil {
		t.Fatal(err)
	}
	after, err := m.Corrected(mic).Response(grid)
	if err != nil {
		t.Fatal(err)
	}
	for i, f := range grid {
		want := 6 - 5*math.Log(f/10)/math.Log(5)
		if f > 50 {
			want = 1 - math.Log(f/50)/math.Log(20)
		}
		if d := float64(model.LevelOf(cmplx.Abs(after[i] / before[i]))); math.Abs(d-want) > 0.05 {
			t.Errorf("at %.1f Hz: corrected by %.3f dB, want %.3f", f, d, want)
		}
	}
}
