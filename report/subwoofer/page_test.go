package subwoofer

import (
	"bytes"
	"html"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"evenbass/model"
	"evenbass/optimize/score"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/text"
)

// hostileSubs puts reporttest.Hostile text into every field that a user fills.
func hostileSubs() Report {
	m := fixtureSubs()
	m.Project.Room.Name, m.Project.Room.Blocks[0].Name, m.Project.KeepClear[0].Name, m.Project.Room.Openings[0].Name = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	for _, p := range append(m.Result.Plans, *m.Result.Now) {
		p.Seats[0].Name = reporttest.Hostile
	}
	m.Result.Engine.Kind, m.Result.Why = reporttest.Hostile, reporttest.Hostile
	m.Project.Warnings, m.Warnings = []model.Warning{model.Remark(reporttest.Hostile)}, []model.Warning{model.Remark(reporttest.Hostile + "2")}
	m.Run = htmlpage.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	return m
}

func TestSubPageIsHarmless(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	m.Project.Warnings, m.Warnings = []model.Warning{model.Remark("a")}, []model.Warning{model.Remark("b")}
	m.Run.Source = "room: {}\n"
	reporttest.CheckHarmless(t, reporttest.Written(t, Page, m), reporttest.Written(t, Page, m), reporttest.Written(t, Page, hostileSubs()))
}

// The page says what it must.
func TestSubPageChapters(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	m.Run.Source, m.Run.Date = "room: {name: Spare room}\n", time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	text := html.UnescapeString(reporttest.Written(t, Page, m))
	for _, want := range []string{
		"One subwoofer: ±8.0 dB instead of ±10.9 dB at the chair; but", "Adding more gains less than 1.0 dB: stop at one.",
		"(30–300 Hz, 1/12 octave; worst of left, right, both)", "Set up one subwoofer", "places and settings fixed", "25 November 2026",
		"Start every test sound quietly", "with two people, from the knees", "A licensed electrician", "At their present places, with the best settings", "Two subwoofers",
		"room: {name: Spare room}", "evenbass subs spare-room.yaml",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	reporttest.CheckWhole(t, text, 7)
}

// What may change the answer stands on the first screen too, before what to set up.
func TestSubPageCaveat(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	m.Project.Warnings = []model.Warning{model.GoalBelowLimit{From: 25, Down: 15, Limit: 60, Helped: true}}
	first, _, _ := strings.Cut(html.UnescapeString(reporttest.Written(t, Page, m)), "Set up one subwoofer")
	if !strings.Contains(first, "Caveat: the goal begins at 25 Hz, where the speakers are 15 dB down") {
		t.Error("the first screen does not say that the goal asks too much of the speakers")
	}
}

// A search that was stopped does not say that another subwoofer would not help.
func TestSubsCutShort(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	m.Result.Plans, m.Result.Most = m.Result.Plans[:2], 3
	if got := Text(m); !strings.Contains(got, "Another one does not help") {
		t.Errorf("after a whole search:\n%s", got)
	}
	m.Result.Warnings = []model.Warning{model.PlansCut{Tried: 1, Most: 3}}
	got := strings.Join(strings.Fields(Text(m)), " ")
	if strings.Contains(got, "does not help") || !strings.Contains(got, "The search was stopped before more were tried.") || !strings.Contains(got, "Caveat: the search was stopped by hand before plans with more than 1 of up to 3") {
		t.Errorf("after a search cut short: %s", got)
	}
}

// Where nothing pays there is nothing to set up, and where nothing was tried no part to
// draw; the page says so in words.
func TestSubPageOfNothing(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	m.Result.Plans, m.Result.Now = m.Result.Plans[:1], nil
	text := reporttest.Written(t, Page, m)
	for _, never := range []string{`id="setup"`, `id="parts"`, `id="others"`, `href="#setup"`} {
		if strings.Contains(text, never) {
			t.Errorf("the page has %s", never)
		}
	}
	if !strings.Contains(text, "No place tried does better") || !strings.Contains(text, `id="sums-0-drawing"`) {
		t.Error("the page does not say that nothing helps, or shows no curve")
	}
	if err := Page(&bytes.Buffer{}, Report{}); err == nil {
		t.Error("made a page of nothing")
	}
}

// The set-up has every setting of every loudspeaker, the speakers' high-pass with them.
func TestSubSetup(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	got := m.setup(&m.Result.Plans[2])
	want := text.Table{
		Head: []string{"", "S1", "S2", "L", "R"},
		Rows: [][]string{
			{"from the left wall", "120 cm", "25 cm", "87 cm", "237 cm"},
			{"from the front wall", "25 cm", "407 cm", "42 cm", "42 cm"},
			{"stands", "back to\nfront wall", "back to\nleft wall,\nin the corner", "as drawn", "as drawn"},
			{"polarity", "reversed", "normal", "normal", "normal"},
			{"delay", "4.2 ms", "0.0 ms", "0.0 ms", "0.0 ms"},
			{"gain", "−3.0 dB", "+1.5 dB", "0.0 dB", "0.0 dB"},
			{"low-pass", "71 Hz", "90 Hz", "none", "none"},
			{"high-pass", "none", "none", "80 Hz", "80 Hz"},
		},
	}
	if a, b := strings.Join(got.Head, "|"), strings.Join(want.Head, "|"); a != b {
		t.Errorf("head %s, want %s", a, b)
	}
	for i, row := range want.Rows {
		if a, b := strings.Join(got.Rows[i], "|"), strings.Join(row, "|"); a != b {
			t.Errorf("%q, want %q", a, b)
		}
	}
	m.Project.Subwoofers.HighPass = 0
	got = m.setup(&m.Result.Plans[2])
	if cell := got.Rows[7][3]; cell != "none" {
		t.Errorf("without a high-pass the speakers have one at %s", cell)
	}
}

// The report says what hard and soft walls change, or that the search did not try them.
func TestSubWalls(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	if got := m.wallsTable().Rows[1][1]; got != "±7.2–9.2 dB" {
		t.Errorf("one subwoofer: %s", got)
	}
	if got := m.certainty(); got != "The plan with one subwoofer does better than none with hard and with soft walls alike." {
		t.Error(got)
	}
	m.Result.Plans[1].Seats[0].Walls.Hard = 40
	if got := m.certainty(); !strings.Contains(got, "depends on the walls: measure") {
		t.Error(got)
	}
	for i := range m.Result.Plans {
		m.Result.Plans[i].Seats[0].Walls = score.Bounds{}
	}
	if rows := m.wallsTable().Rows; len(rows) != 0 || m.certainty() != "" || !strings.Contains(m.rangeText(), "did not try walls") {
		t.Errorf("%v, %q where nobody looked", rows, m.certainty())
	}
}

// In a browser without network: quiet, harmless, drawn without scripts, no wider than a phone, two
// sheets for the client.
func TestSubBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	file := func(m Report) string {
		return reporttest.File(t, func(w io.Writer) error { return Page(w, m) }, htmlpage.ErrNoLibrary)
	}
	b.Run(t, reporttest.Colours("light"), chromedp.Navigate(file(hostileSubs())))
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 1 {
		t.Errorf("%d scripts and pictures, want the page's one script", got)
	}
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(file(fixtureSubs())))
	b.CheckPhone(t)
	const shown = `[...document.querySelectorAll("#sums-0-narrow-drawing path.curve")].map(c => getComputedStyle(c).stroke).join("; ")`
	if got := reporttest.Value[string](t, b, shown); got != "rgb(95, 100, 104); rgb(173, 70, 0); rgb(0, 104, 163)" {
		t.Errorf("the curves are %s", got)
	}
	b.CheckSheets(t, 2, 8)
	b.Quiet(t)
}
