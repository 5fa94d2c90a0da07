package place

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/report/data"
	"evenbass/report/prediction"
	"evenbass/report/reporttest"
)

func TestJSONGolden(t *testing.T) {
	in := fixtureInput(model.NewGrid(20, 315, 1, 0))
	in.Result.Candidates = in.Result.Candidates[:1]
	b := reporttest.Written(t, JSON, in)
	reporttest.Golden(t, "places.json", b)
}

// A reader that knows nothing of this package finds the figures again.
func TestJSONReads(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Project.Room.Name = `</script><script>alert(1)</script> "quoted" ` + "\u2028"
	b := reporttest.Written(t, JSON, in)
	var doc struct {
		Format string
		Room   struct {
			Name   string
			Length float64 `json:"length_m"`
		}
		Now     *struct{ Rank int }
		Layouts []struct {
			Rank     int
			Left     map[string]float64
			Spread   float64 `json:"spread_db"`
			Robust   float64 `json:"robust_spread_db"`
			Channels map[string]struct {
				Level []float64 `json:"level_db"`
			}
		}
		Frequency []float64 `json:"frequency_hz"`
	}
	if err := json.Unmarshal([]byte(b), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Format != FormatName || doc.Room.Name != in.Project.Room.Name || doc.Room.Length != 4.3 || doc.Now == nil {
		t.Errorf("head reads %+v", doc)
	}
	if len(doc.Layouts) != 4 || len(doc.Frequency) != len(in.Grid) {
		t.Fatalf("%d layouts, %d frequencies", len(doc.Layouts), len(doc.Frequency))
	}
	for i, l := range doc.Layouts {
		want := in.Result.Candidates[i]
		if l.Rank != i+1 || math.Abs(l.Left["x_m"]-want.Layout.Left.X) > 5e-5 ||
			math.Abs(l.Spread-float64(want.Judgement.Spread())) > 5e-3 || math.Abs(l.Robust-float64(want.Robust)) > 5e-3 {
			t.Errorf("layout %d reads %+v", i+1, l)
		}
		for c, name := range []string{"left", "right", "both"} {
			if len(l.Channels[name].Level) != len(in.Grid) || math.Abs(l.Channels[name].Level[3]-float64(want.Judgement.Curves[c][3])) > 5e-3 {
				t.Errorf("layout %d, %s: curve differs", i+1, name)
			}
		}
	}
}

func TestJSONOfNoPresentLayout(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Result.Now = nil
	in.Result.Warnings, in.Project.Warnings = nil, nil
	b := reporttest.Written(t, JSON, in)
	for _, want := range []string{`"now": null`, `"warnings": []`, `"breaches": []`} {
		if !strings.Contains(b, want) {
			t.Errorf("%s is missing", want)
		}
	}
}

// Rounding to JSON stays within half of the last decimal; what is no number is
// null; there is no negative zero.
func TestFixed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e4, 1e4).Draw(t, "v")
		places := rapid.IntRange(0, 4).Draw(t, "places")
		b, err := json.Marshal(data.Rounded(v, places))
		if err != nil {
			t.Fatal(err)
		}
		var back float64
		if err := json.Unmarshal(b, &back); err != nil || math.Abs(back-v) > 0.5000001*math.Pow(10, -float64(places)) {
			t.Fatalf("%v to %d places is %s", v, places, b)
		}
	})
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if b, _ := json.Marshal(data.Rounded(v, 2)); string(b) != "null" {
			t.Errorf("%v is written %s", v, b)
		}
	}
	if b, _ := json.Marshal(data.Rounded(-0.001, 2)); string(b) != "0" {
		t.Errorf("-0.001 is written %s", b)
	}
}

func TestWriteErrorsSurface(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	for name, err := range map[string]error{
		"JSON": JSON(reporttest.FullDisk{}, in),
		"page": Page(reporttest.FullDisk{}, in),
		"CSV":  prediction.CSV(reporttest.FullDisk{}, in.Grid, model.AirAt(0), in.Result.Now.Pair),
	} {
		if err == nil || !strings.Contains(err.Error(), reporttest.ErrFull.Error()) {
			t.Errorf("%s on a full disk gives %v", name, err)
		}
	}
}

// An input that cannot be shown is an error and not half a page.
func TestInputChecked(t *testing.T) {
	for name, spoil := range map[string]func(*Report){
		"no project":  func(in *Report) { in.Project = nil },
		"no result":   func(in *Report) { in.Result = nil },
		"no layout":   func(in *Report) { in.Result.Candidates = nil },
		"other grids": func(in *Report) { in.Grid = in.Grid[1:] },
	} {
		in := fixtureInput(reporttest.CoarseGrid())
		spoil(&in)
		var b bytes.Buffer
		if JSON(&b, in) == nil || Page(&b, in) == nil || b.Len() > 0 {
			t.Errorf("%s: was accepted, or %d bytes were written", name, b.Len())
		}
	}
}
