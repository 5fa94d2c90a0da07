package place

import (
	"encoding/json"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// sofaInput is the fixture with a sofa: invented figures.
func sofaInput(rest float64) Report {
	in := fixtureInput(reporttest.CoarseGrid())
	for i, c := range in.Result.Shown() {
		c.Seats = []score.SeatFigures{
			{Name: "chair", Weight: 1 - rest, At: c.Layout.Seat, Spread: c.Judgement.Spread(), Counted: c.Robust},
			{Name: "sofa <b>", Weight: rest, Spread: 15, Counted: model.Level(17 - float64(i)/4)},
		}
		c.Score, c.Between = 11, 3.25
	}
	if rest > 0 {
		best := in.best()
		in.Result.Front = []optimize.FrontPoint{
			{Layout: best.Layout, Main: best.Robust, Rest: 17}, {Layout: in.Result.Candidates[1].Layout, Main: best.Robust + 2, Rest: 14},
		}
	}
	return in
}

// The text has a row for each seat in the table of layouts, and the trade-off.
func TestSummaryOfTwoSeats(t *testing.T) {
	t.Parallel()
	in := sofaInput(0.25)
	in.Full = true
	reporttest.Golden(t, "summary-seats.txt", Text(in.in(unit.Metric)))
}

// The page draws the trade-off with one mark per point, names stay text, and the
// table holds what the drawing shows.
func TestPageOfTwoSeats(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	if err := Page(&b, sofaInput(0.25)); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	for _, want := range []string{"More than one seat", "ranked by all weighted seats together. The main seat", `aria-labelledby="trade-title`, "spread at sofa &lt;b&gt;, dB", "±17.0 dB", "chair 75 %, sofa &lt;b&gt; 25 %"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(page, "sofa <b>") {
		t.Error("a seat's name has become markup")
	}
}

// The page says whether the main seat alone counts: it does with one seat, and where the
// others have no weight.
func TestLimitsNameWhoCounts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   Report
		want string
	}{
		{fixtureInput(reporttest.CoarseGrid()), "Only the main seat counts"},
		{sofaInput(0), "Only the main seat counts"},
		{sofaInput(0.25), "Only the seats with a weight count"},
	} {
		if text := strings.Join(limits(c.in.Result), "\n"); strings.Count(text, "seat") != 1 || !strings.Contains(text, c.want) {
			t.Errorf("want %q in\n%s", c.want, text)
		}
	}
}

// A seat without weight is a row and no trade.
func TestSeatThatDoesNotCount(t *testing.T) {
	t.Parallel()
	in := sofaInput(0)
	v := newSeatsView(in.Result, unit.Metric)
	if v.Chart != nil || len(v.Front.Rows) > 0 {
		t.Error("a trade-off with a seat that does not count")
	}
	if text := Text(in.in(unit.Metric)); !strings.Contains(text, "spread at sofa <b>") {
		t.Errorf("no row for the sofa:\n%s", text)
	}
	if one := fixtureInput(reporttest.CoarseGrid()); newSeatsView(one.Result, unit.Metric) != nil {
		t.Error("one seat is told as several")
	}
}

// JSON names every seat with its place and figures, and the front.
func TestJSONOfTwoSeats(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	if err := JSON(&b, sofaInput(0.25)); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Layouts []struct {
			Seats struct {
				Each []struct {
					Name    string  `json:"name"`
					Weight  float64 `json:"weight"`
					Counted float64 `json:"counted_spread_db"`
				} `json:"each"`
				Between float64 `json:"seat_to_seat_db"`
			} `json:"seats"`
		} `json:"layouts"`
		Front []struct {
			Main float64 `json:"main_spread_db"`
			Rest float64 `json:"others_spread_db"`
		} `json:"trade_off"`
	}
	if err := json.Unmarshal([]byte(b.String()), &doc); err != nil {
		t.Fatal(err)
	}
	first := doc.Layouts[0].Seats
	if len(first.Each) != 2 || first.Each[1].Name != "sofa <b>" || first.Each[1].Weight != 0.25 || first.Each[1].Counted != 16.75 || first.Between != 3.25 {
		t.Errorf("seats %+v", first)
	}
	if len(doc.Front) != 2 || doc.Front[1].Rest != 14 {
		t.Errorf("front %+v", doc.Front)
	}
}
