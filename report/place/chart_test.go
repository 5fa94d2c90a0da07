package place

import (
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/chart"
	"evenbass/report/reporttest"
)

func TestResponseChartGolden(t *testing.T) {
	in := fixtureInput(model.NewGrid(20, 315, 1, 0))
	in.Result.Candidates = in.Result.Candidates[:2]
	b, err := responseChart(&in, response.BothTogether)
	if err != nil {
		t.Fatal(err)
	}
	reporttest.Golden(t, "response-options.json", reporttest.Indented(t, b))
}

func TestModeChartGolden(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	b, err := modeChart(in.Modes[:6])
	if err != nil {
		t.Fatal(err)
	}
	reporttest.Golden(t, "mode-options.json", reporttest.Indented(t, b))
}

// Every chart of responses has the same fixed scale, and each curve is what was
// judged, relative to its own mean; its shading is as high as its spread.
func TestResponseChart(t *testing.T) {
	in := fixtureInput(model.DefaultGrid())
	for _, c := range response.Channels {
		b, err := responseChart(&in, c)
		doc := reporttest.ReadChart(t, b, err)
		x, y := doc.XAxis[0], doc.YAxis[0]
		if x.Type != "log" || x.Min != 20 || x.Max != 300 || y.Max-y.Min != 50 || y.Interval != 5 {
			t.Errorf("%v: axes are %+v, %+v", c, x, y)
		}
		if len(doc.Series) != 6 {
			t.Fatalf("%v: %d series", c, len(doc.Series))
		}
		for i, candidate := range in.Result.Shown() {
			s, f := doc.Series[i+1], candidate.Judgement.Figures[c]
			if shown := doc.Legend.Selected[s.Name]; shown != (i < 2) {
				t.Errorf("%v: %s is shown: %v", c, s.Name, shown)
			}
			area := s.MarkArea.Data[0]
			if height := area[1].Coord[1] - area[0].Coord[1]; math.Abs(height-2*float64(f.Spread)) > 0.011 {
				t.Errorf("%v: %s: shaded %v dB high, the spread is ±%v", c, s.Name, height, f.Spread)
			}
			n := in.Grid.Nearest(100)
			at := s.Data[n].Value[1].(float64)
			if want := float64(candidate.Judgement.Curves[c][n] - f.Mean); math.Abs(at-want) > 0.0051 {
				t.Errorf("%v: %s: %v dB at 100 Hz, want %v", c, s.Name, at, want)
			}
		}
	}
}

// No two layouts that can be shown together look alike without colour: now is
// dashed and thin, and the first found is solid.
func TestChartLines(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	b, err := responseChart(&in, response.BothTogether)
	doc := reporttest.ReadChart(t, b, err)
	if doc.Series[1].LineStyle.Type != "dashed" || doc.Series[2].LineStyle.Type != "solid" {
		t.Errorf("now is %s, layout 1 is %s", doc.Series[1].LineStyle.Type, doc.Series[2].LineStyle.Type)
	}
	colours := map[string]bool{}
	for _, s := range doc.Series[1:] {
		colours[s.LineStyle.Color] = true
	}
	if len(colours) != 5 {
		t.Errorf("%d colours for 5 curves", len(colours))
	}
}

// A level that is no number is left out rather than breaking the page.
func TestCurveWithHole(t *testing.T) {
	curve := []model.Level{1, model.Level(math.Inf(-1)), model.Level(math.NaN()), 2}
	data := chart.Levels(model.Grid{30, 40, 50, 60}, curve, 0)
	if len(data) != 2 {
		t.Errorf("%d points, want 2", len(data))
	}
}

// Every mode up to 300 Hz is drawn once, as high as its decay time.
func TestModeChart(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	b, err := modeChart(in.Modes)
	doc := reporttest.ReadChart(t, b, err)
	drawn := 0
	for _, s := range doc.Series {
		for i := 1; i < len(s.Data); i += 3 {
			drawn++
			if s.Data[i-1].Value[1] != 0.0 || s.Data[i].Value[0] != s.Data[i-1].Value[0] || s.Data[i+1].Value[0] != "-" {
				t.Errorf("%s: stem %d is %v", s.Name, i/3, s.Data[i-1:i+2])
			}
		}
	}
	if drawn != len(in.Modes) {
		t.Errorf("%d of %d modes are drawn", drawn, len(in.Modes))
	}
}

// Charts carry no functions and no text of the user's.
func TestChartsCarryNoCode(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Project.Room.Name = "__f__function(){alert(1)}__f__"
	for _, c := range response.Channels {
		b, err := responseChart(&in, c)
		if err != nil || strings.Contains(string(b), "__f__") || strings.Contains(string(b), "function") {
			t.Errorf("%v: %v, %s", c, err, b)
		}
	}
}
