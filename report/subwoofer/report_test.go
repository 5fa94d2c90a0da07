package subwoofer

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/subwoofer"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// fixtureSubs is the fixture's room with none, one and two subwoofers; the figures only
// look like a room's.
func fixtureSubs() Report {
	p, grid := reporttest.Project(), reporttest.CoarseGrid()
	p.Subwoofers = &model.Subwoofers{
		Count: 3, Box: model.Dimensions{Depth: 0.4, Width: 0.36, Height: 0.42}, Height: 0.24, LowLimit: 25, HighPass: 80, Filter: model.LinkwitzRiley4,
		LowPass: model.Range{Min: 50, Max: 120}, Gain: model.Range{Min: -12, Max: 6}, Delay: model.Range{Max: 0.02},
	}
	layout, _ := p.Now()
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	mains := reporttest.Pair(grid, p.Room.Size, layout)
	plan := func(robust model.Level, subs ...subwoofer.Unit) subwoofer.Plan {
		seat := subwoofer.Seat{Name: "chair", At: layout.Seat, Weight: 1, Mains: mains}
		seat.Pair = response.Pair{Left: append([]complex128(nil), mains.Left...), Right: append([]complex128(nil), mains.Right...)}
		for _, s := range subs {
			way := reporttest.ImageSum(grid, p.Room.Size, s.Place.Driver, layout.Seat)
			for i := range way {
				seat.Pair.Left[i] += way[i]
				seat.Pair.Right[i] += way[i]
			}
			seat.Units = append(seat.Units, way)
		}
		seat.Judgement = reader.Judge(seat.Pair)
		seat.Card = reporttest.Card(reader.Card(seat.Pair, nil))
		seat.Walls = score.Bounds{Hard: seat.Judgement.Spread() + 1.2, Soft: seat.Judgement.Spread() - 0.8}
		return subwoofer.Plan{Units: subs, Robust: robust, Seats: []subwoofer.Seat{seat}}
	}
	a := subwoofer.Unit{Place: model.SubwooferPlace{Driver: r3.Vec{X: 0.25, Y: 1.2, Z: 0.24}}, Setting: subwoofer.Setting{Gain: -3, Reversed: true, Delay: 0.0042, LowPass: 71}}
	b := subwoofer.Unit{Place: model.SubwooferPlace{Driver: r3.Vec{X: 4.07, Y: 0.25, Z: 0.24}, Turned: true, Corner: true}, Setting: subwoofer.Setting{Gain: 1.5, LowPass: 90}}
	now := plan(12.5, subwoofer.Unit{Place: model.SubwooferPlace{Driver: r3.Vec{X: 1, Y: 1, Z: 0.24}}, Setting: subwoofer.Setting{LowPass: 80}})
	return Report{
		Project: p, Grid: grid,
		Result: &subwoofer.Result{
			Engine: model.EngineInfo{Kind: model.ModeEngine}, Goal: p.Goal, Layout: layout, Places: 61, Most: 3, Now: &now,
			Plans: []subwoofer.Plan{plan(14), plan(9.5, a), plan(9.2, a, b)},
		},
		Run: html.Run{Command: "evenbass subs spare-room.yaml", Version: "0.1.0", File: "spare-room.yaml"},
	}
}

func TestSubTextGolden(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	reporttest.Golden(t, "subs-first.txt", Text(m))
	reporttest.CheckFits(t, Text(m))
	m.Full = true
	reporttest.Golden(t, "subs.txt", Text(m))
	m.Style = unit.Imperial
	reporttest.Golden(t, "subs-imperial.txt", Text(m))
	m.Project.Warnings = m.Project.FindWarnings() // some name a rule that the present places break, by so many cm
	reporttest.CheckImperial(t, Text(m))
	if text := Text(m); !strings.Contains(text, "The present places break these rules\n- ") {
		t.Errorf("no broken rule in:\n%s", text)
	}
}

// The first that gains a decibel on what paid before is kept; smaller ones add up.
func TestEnoughSubs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		robust []model.Level
		want   int
		says   string
	}{
		{[]model.Level{14}, 0, "No subwoofer reduces the spread"},
		{[]model.Level{14, 13.7}, 0, "Those tried gain less: do without"},
		{[]model.Level{14, 9}, 1, "One subwoofer: "},
		{[]model.Level{14, 9, 8.8, 7.9}, 3, "Three subwoofers: "},
		{[]model.Level{14, 9, 8.8, 8.7}, 1, "Adding more gains less than 1.0 dB: stop at one."},
	} {
		m := fixtureSubs()
		full := m.Result.Plans[2]
		m.Result.Plans = nil
		for n, r := range c.robust {
			plan := full
			plan.Units = append([]subwoofer.Unit{}, full.Units...)
			for len(plan.Units) < n {
				plan.Units = append(plan.Units, full.Units[0])
			}
			plan.Units, plan.Robust = plan.Units[:n], r
			m.Result.Plans = append(m.Result.Plans, plan)
		}
		if got := m.worthwhile(); got != c.want {
			t.Errorf("%v: %d are enough, want %d", c.robust, got, c.want)
		}
		if text := Text(m); !strings.Contains(strings.Join(strings.Fields(text), " "), c.says) {
			t.Errorf("%v: no %q in\n%s", c.robust, c.says, text)
		}
	}
}

func TestSubJSON(t *testing.T) {
	t.Parallel()
	b := reporttest.Written(t, JSON, fixtureSubs())
	var doc struct {
		Format      string
		Recommended int
		Plans       []struct {
			Count      int
			Subwoofers []struct {
				Driver struct {
					X float64 `json:"x_m"`
				}
				Reversed bool
				Delay    float64 `json:"delay_ms"`
				Gain     float64 `json:"gain_db"`
			}
			Seats []struct {
				Channels map[string]struct {
					Level []float64 `json:"level_db"`
				}
			}
		}
		Frequency []float64 `json:"frequency_hz"`
		Warnings  []string
	}
	if err := json.Unmarshal([]byte(b), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Format != FormatName || doc.Recommended != 1 || len(doc.Plans) != 3 || doc.Plans[2].Count != 2 || len(doc.Warnings) == 0 {
		t.Errorf("document %+v", doc)
	}
	if s := doc.Plans[1].Subwoofers[0]; s.Driver.X != 0.25 || !s.Reversed || s.Delay != 4.2 || s.Gain != -3 {
		t.Errorf("subwoofer %+v", s)
	}
	if n := len(doc.Plans[0].Seats[0].Channels["both"].Level); n != len(doc.Frequency) || n != len(reporttest.CoarseGrid()) {
		t.Errorf("%d levels", n)
	}
	if err := JSON(io.Discard, Report{}); err == nil {
		t.Error("wrote a report of nothing")
	}
}

func TestSubCSV(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	m := fixtureSubs()
	if err := CSV(&b, m, m.Project.Room.Air()); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != len(m.Grid)+1 || len(rows[0]) != 1+3*6 || rows[0][7] != "subwoofer_1_re" || rows[0][16] != "sum_both_re" {
		t.Errorf("%d rows under %v", len(rows), rows[0])
	}
}
