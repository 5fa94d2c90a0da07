package whatif

import (
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/whatif"
	"evenbass/report/reporttest"
)

// The JSON names its format and holds every state; what is not known is null.
func TestWhatIfJSON(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	w.Result.States[0].Modes = []whatif.ModeDecay{{N: [3]int{1, 0, 0}, Frequency: 41.2, Fall20: 0.3}}
	b := reporttest.Written(t, JSON, w)
	var doc struct {
		Format  string
		Options []struct {
			Name   string   `json:"name"`
			Spread float64  `json:"spread_db"`
			Weight *float64 `json:"weight_kg"`
			Healed []struct {
				Before float64 `json:"before_re_mean_db"`
			} `json:"dips_healed"`
			Modes []struct {
				N []int `json:"half_waves"`
			} `json:"modes"`
			Decay []struct {
				Resolved bool `json:"resolved"`
			} `json:"decay"`
			Breaches []string `json:"breaches"`
		}
		Frequency []float64 `json:"frequency_hz"`
	}
	if err := json.Unmarshal([]byte(b), &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Format != "evenbass whatif 1" || len(doc.Options) != 2 || !slices.Equal(doc.Frequency, []float64{40, 80, 160}) {
		t.Fatalf("%+v", doc)
	}
	a, worse := doc.Options[0], doc.Options[1]
	if a.Name != "add a <deep> layer" || a.Spread != 9 || a.Weight != nil || len(a.Healed) != 1 || a.Healed[0].Before != -12 || len(a.Modes) != 1 {
		t.Errorf("%+v", a)
	}
	if len(a.Decay) != 3 || a.Decay[0].Resolved || !a.Decay[2].Resolved {
		t.Errorf("decay %+v", a.Decay)
	}
	if len(worse.Breaches) != 1 || worse.Modes != nil || worse.Spread != 12.6 {
		t.Errorf("%+v", worse)
	}
	if strings.Count(b, `"modes": null`) != 2 || strings.Count(b, `"best_places": null`) != 3 {
		t.Error("what is not known is not null")
	}
}

// The table has a row for each state, and no name in it becomes a formula.
func TestWhatIfCSV(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	w.Result.States[1].Name = "=1+1"
	w.Result.Now.Decay[1].Fall20 = 0
	w.Result.States[0].Places = &score.Candidate{Judgement: w.Result.States[0].Judgement}
	b := reporttest.Written(t, CSV, w)
	rows, err := csv.NewReader(strings.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := func(row int, name string) string {
		i := slices.Index(rows[0], name)
		if i < 0 {
			t.Fatalf("no column %s among %v", name, rows[0])
		}
		return rows[row][i]
	}
	if len(rows) != 4 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, want := range []struct {
		row        int
		name, cell string
	}{
		{1, "state", "now"}, {2, "state", "A"}, {1, "spread_db", "12.000"}, {2, "name", "add a <deep> layer"}, {3, "name", "'=1+1"},
		{1, "fall_20_db_63_hz_s", ""}, {2, "fall_20_db_125_hz_s", "0.12"}, {1, "best_places_db", ""}, {2, "best_places_db", "9.000"}, {3, "cost_low", ""},
	} {
		if got := at(want.row, want.name); got != want.cell {
			t.Errorf("row %d, %s: %q, want %q", want.row, want.name, got, want.cell)
		}
	}
}

// A slower decay is reported where it may be audible, counted where it is not, and passed
// over where neither is known. By hand from the thresholds of response.Audible.
func TestSlowerLines(t *testing.T) {
	t.Parallel()
	decay := func(band, fall float64) response.Decay {
		return response.Decay{Band: band, Fall20: fall, Filter: 0.01}
	}
	before := []response.Decay{decay(40, 0.2), decay(125, 0.03), decay(160, 1.0), decay(200, 0.1), decay(250, 0.1)}
	after := []response.Decay{decay(40, 0.3), decay(125, 0.05), decay(160, 1.3), decay(200, 0.11), decay(250, 1)}
	want := []string{
		"worse: at 40 Hz the sound takes 300 ms to decay by 20 dB instead of 200 ms",
		"worse: at 250 Hz the sound takes 0.9 s or longer to decay by 20 dB instead of 100 ms",
		"slower, but still inaudible: the decay at 125 Hz",
	}
	if got := slowerLines(before, after); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

// With the places of each state the text says what moving alone does; with modes it has
// their table, and without says that none are known.
func TestWhatIfMore(t *testing.T) {
	t.Parallel()
	w := whatIfFixture()
	w.Full = true
	if text := Text(w); !strings.Contains(text, "Decay of single modes is known only") || strings.Contains(text, "own best places") {
		t.Error(text)
	}
	place := func(v *whatif.State, by float64) {
		c := score.Candidate{Judgement: v.Judgement, Layout: w.Result.Layout}
		for i := range c.Judgement.Figures {
			c.Judgement.Figures[i].Spread /= 2
		}
		c.Layout.Seat.X = by
		v.Places = &c
	}
	place(&w.Result.Now, 1.25)
	place(&w.Result.States[0], 1.55)
	w.Result.Now.Modes = []whatif.ModeDecay{{N: [3]int{1, 0, 0}, Frequency: 41.2, Fall20: 0.3}}
	w.Result.States[0].Modes = []whatif.ModeDecay{{N: [3]int{1, 0, 0}, Frequency: 41.2}}
	text := strings.Join(strings.Fields(Text(w)), " ")
	for _, want := range []string{
		"Moving speakers and seat alone reaches ±6.0 dB; A at its own best places reaches ±4.5 dB.",
		"125 cm, 0 cm", "155 cm, 0 cm", "41 Hz 1,0,0 now 300 A n/a",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in:\n%s", want, text)
		}
	}
	if strings.Contains(text, "Decay of single modes is known only") {
		t.Error("modes are told and said not to be known")
	}
}
