package floormap

import (
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"github.com/rivo/uniseg"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/optimize/score"
	"evenbass/report/data"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

func TestMapTextGolden(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	reporttest.Golden(t, "map-first.txt", Text(m))
	reporttest.CheckFits(t, Text(m))
	m.Full = true
	reporttest.Golden(t, "map.txt", Text(m))
	m.Style, m.Number, m.Survey.HasSeat = unit.Imperial, 2, false
	reporttest.Golden(t, "map-imperial.txt", Text(m))
}

// The plan in letters keeps its width and its marks in every size of room, and the
// marks are where their places are.
func TestLetterPlan(t *testing.T) {
	t.Parallel()
	for _, size := range []r3.Vec{{X: 1.5, Y: 1.2}, {X: 4.3, Y: 3.3}, {X: 3, Y: 12}, {X: 14, Y: 9}} {
		m := fixtureMaps()
		s := m.Survey
		s.Chair = floormap.Spread{}
		for i := range 40 {
			s.Chair.X = append(s.Chair.X, (float64(i)+0.5)/40*size.X)
		}
		for i := range 31 {
			s.Chair.Y = append(s.Chair.Y, (float64(i)+0.5)/31*size.Y)
		}
		for range s.Chair.Len() {
			s.Chair.Spread, s.Chair.Rule = append(s.Chair.Spread, 7), append(s.Chair.Rule, model.Rule{})
		}
		at := func(x, y float64) r3.Vec { return r3.Vec{X: x * size.X, Y: y * size.Y} }
		s.Layout = model.Layout{Left: at(0.1, 0.1), Right: at(0.1, 0.9), Seat: at(0.95, 0.5)}
		words := letterPlan(&m, letterRows)
		lines := strings.Split(strings.TrimRight(words[strings.Index(words, "+"):], "\n"), "\n")
		for _, line := range lines {
			if n := uniseg.StringWidth(line); n > text.Columns {
				t.Errorf("%v: a line of %d letters", size, n)
			}
		}
		if len(lines) > letterRows+2 {
			t.Errorf("%v: %d lines", size, len(lines))
		}
		chair := -1
		for _, line := range lines[len(lines)-4:] {
			chair = max(chair, strings.Index(line, " S "))
		}
		if middle := float64(9+uniseg.StringWidth(lines[0])) / 2; chair < 0 || math.Abs(float64(chair)-middle) > 6 {
			t.Errorf("%v: the chair is at the back in the middle, but at %d in\n%s", size, chair, words)
		}
		plan := strings.Join(lines, "\n")
		if strings.Count(plan, " L ") != 1 || strings.Count(plan, " R ") != 1 || strings.Count(plan, "[*]") != 1 {
			t.Errorf("%v: marks are missing", size)
		}
	}
}

// A survey that allows no place says so, and a rule that is broken everywhere is told.
func TestMapTextWithoutPlaces(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	for n := range m.Survey.Chair.Rule {
		m.Survey.Chair.Rule[n].Kind = model.SeatNear
	}
	words := Text(m)
	if !strings.Contains(words, "leave no place for the chair") || strings.Contains(words, "least spread for the chair") {
		t.Error(words)
	}
	m = fixtureMaps()
	m.Survey.Chair.Anyway = []model.Breach{{Rule: model.Rule{Kind: model.SpeakersNear}, Amount: 0.12}}
	if words := Text(m); !strings.Contains(words, "too near each other, by 12 cm") {
		t.Error(words)
	}
	if words := Text(Report{}); !strings.Contains(words, "no project") {
		t.Error(words)
	}
}

// The table has a row for each place and reads back to the map's own figures; what is
// blank on the map is empty in it.
func TestMapCSV(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	b := reporttest.Written(t, CSV, m.Survey)
	rows, err := csv.NewReader(strings.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	c := &m.Survey.Chair
	if len(rows) != c.Len()+1 || len(rows[0]) != 5+3*len(m.Survey.Levels.Grid) {
		t.Fatalf("%d rows of %d", len(rows), len(rows[0]))
	}
	if got := strings.Join(rows[0][:8], " "); got != "x_m y_m z_m spread_db broken_rule both_level_30hz_db left_level_30hz_db right_level_30hz_db" {
		t.Error(got)
	}
	blank := 0
	for n, row := range rows[1:] {
		if (row[3] == "") != !c.Open(n) || row[3] != data.Level(c.Spread[n]) || row[4] != text.RuleText(c.Rule[n]) {
			t.Fatalf("place %d: %v", n, row)
		}
		if row[3] == "" {
			blank++
		}
	}
	if blank == 0 {
		t.Error("nothing is blank, though a chimney stands there")
	}
}

// The first sentence says whether to move the chair: only where that gains more than the prediction
// can tell.
func TestAdvice(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	best, _ := m.Survey.Chair.Best(m.Survey.Chair.Allowed)
	moved := m.Survey.Layout
	moved.Seat = m.Survey.Chair.Place(best)
	moves := text.Moves(m.Survey.Layout.Seat, moved.Seat, m.Style)
	cards := func(now, there model.Level) []score.Candidate {
		card := func(spread model.Level) score.Candidate {
			return score.Candidate{Layout: moved, Card: reporttest.Card(response.Card{Goal: m.Survey.Chair.Goal, Spread: spread, Deviation: spread / 2, Within: 0.5})}
		}
		return []score.Candidate{card(now), card(there)}
	}
	for _, c := range []struct {
		there model.Level
		want  string
	}{
		{9, "Moving the chair " + moves + " evens out the bass from ±14.0 to ±9.0 dB"},
		{14, "Leave the chair where it is"},
		{18, "Leave the chair where it is"},
	} {
		m.Survey.Cards = cards(14, c.there)
		if got := strings.Join(strings.Fields(Text(m)), " "); !strings.Contains(got, c.want) {
			t.Errorf("±%v dB there: no %q in\n%s", c.there, c.want, got)
		}
	}
}

// A place whose gain in spread impairs the band or the balance is no advice: it says what it costs, and the chair
// goes to another place or stays. Figures are those of a room with subwoofers, rounded.
func TestNoAdviceThatImpairs(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	now := response.Card{Goal: m.Survey.Chair.Goal, Spread: 20, Deviation: 9, Within: 0.5, LowOctave: -0.5, Dip: response.Dip{Frequency: 48, Level: -33}}
	least, spared := now, now
	least.Spread, least.Deviation, least.Within, least.LowOctave = 14, 7, 0.31, -12.7
	spared.Spread, spared.LowOctave = 17, 0.4
	at := func(x, y float64, c response.Card) score.Candidate {
		l := m.Survey.Layout
		l.Seat.X, l.Seat.Y = l.Seat.X+x, l.Seat.Y+y
		return score.Candidate{Layout: l, Card: reporttest.Card(c)}
	}
	all := []score.Candidate{at(0, 0, now), at(-0.75, 0, least), at(0.3, 0, spared)}
	aside := []score.Candidate{all[0], at(-0.75, 0.6, spared)}
	for name, c := range map[string]struct {
		cards        []score.Candidate
		want, column string
	}{
		"stays":       {all[:2], "Leave the chair where it is. Moving it 75 cm towards the front wall narrows the extremes from ±20.0 to ±14.0 dB, whatever the walls; but 31 % of the band is within ±6 dB instead of 50 % and the lowest octave is 12.2 dB quieter.", "least spread"},
		"elsewhere":   {all, "Moving the chair 30 cm towards the back wall narrows the extremes from ±20.0 to ±17.0 dB, whatever the walls. The advised place is", "advised"},
		"off balance": {aside, "There the right speaker is", "least spread"},
	} {
		m.Survey.Cards = c.cards
		got := Text(m)
		if words := strings.Join(strings.Fields(got), " "); !strings.Contains(words, c.want) || !strings.Contains(words, c.column+" spread") {
			t.Errorf("%s: no %q over a column %q in\n%s", name, c.want, c.column, got)
		}
		if moves := !strings.Contains(got, "Leave the chair"); moves != (name == "elsewhere") || moves != strings.Contains(got, "[+]: the advised place") {
			t.Errorf("%s: %s", name, got)
		}
	}
	m.Survey.Cards = all
	reporttest.Golden(t, "map-advised.txt", Text(m))
	reporttest.CheckFits(t, Text(m))
	if !strings.Contains(reporttest.Written(t, Page, m), ">advised</th>") {
		t.Error("the page lacks the card of the advised place")
	}
}

// What a single rule costs is said; a place that breaks several is no advice, however even.
func TestPlaceButForOneRule(t *testing.T) {
	m := fixtureMaps()
	c := &m.Survey.Chair
	best, _ := c.Best(c.Allowed)
	said := map[bool]int{}
	for n := range c.Len() {
		at := m.Survey.Layout
		at.Seat = c.Place(n)
		broken := len(m.Project.Breaches(at))
		if !c.Open(n) || n == best || broken == 0 || said[broken == 1] > 0 {
			continue
		}
		was, rule := c.Spread[n], c.Rule[n]
		c.Spread[n], c.Rule[n] = c.Spread[best]-3, model.Rule{Kind: model.SeatZone}
		text := strings.Join(strings.Fields(strings.Join(m.summary(), " ")), " ")
		c.Spread[n], c.Rule[n] = was, rule
		if got := strings.Contains(text, "But for one rule it would be least "+where(c.Place(n), m.Style)); got != (broken == 1) {
			t.Errorf("%v breaks %d rules; it says %q", c.Place(n), broken, text)
		}
		said[broken == 1]++
	}
	if len(said) < 2 {
		t.Errorf("places that break one rule and more: %v", said)
	}
}
