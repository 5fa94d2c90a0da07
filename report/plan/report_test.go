package plan

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rivo/uniseg"

	"evenbass/model"
	"evenbass/optimize/plan"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// quick is the fixture as a quick plan leaves it: the places alone.
func quick(t *testing.T) Report {
	r := fixture(t)
	r.Plan.Options, r.Plan.Stages, r.Plan.Pieces = nil, nil, nil
	r.Plan.Missing = []plan.Missing{{Step: plan.CompareOptions, Why: plan.LeftOut}, {Step: plan.ChooseStages, Why: plan.LeftOut}, {Step: plan.BuildPieces, Why: plan.Nothing}}
	return r
}

func TestTextGolden(t *testing.T) {
	r := fixture(t)
	got := Text(r)
	reporttest.Golden(t, "plan.txt", got)
	reporttest.CheckFits(t, got)
	reporttest.Golden(t, "plan-quick.txt", Text(quick(t)))
	r.Style = unit.Imperial
	reporttest.CheckImperial(t, Text(r))
}

// Whatever the room and what blocks an option are called, the text fits a terminal and holds no control character.
func TestTextFits(t *testing.T) {
	r := fixture(t)
	r.Plan.Study.Project.Room.Name = strings.Repeat(reporttest.Hostile, 3)
	for range 30 {
		r.Plan.Blocked = append(r.Plan.Blocked, model.BlockedOption{Option: reporttest.Hostile, By: model.Blocked{Piece: "\x1b[31m" + reporttest.Hostile}})
	}
	got := Text(r)
	for _, line := range strings.Split(got, "\n") {
		if n := uniseg.StringWidth(line); n > text.Columns {
			t.Errorf("%d columns: %q", n, line)
		}
		if line != text.Printable(line) {
			t.Errorf("unprintable characters: %q", line)
		}
	}
}

// What the page says itself, without the pages of the steps, is a golden: overview, contents, how to measure.
func TestPageGolden(t *testing.T) {
	page := regexp.MustCompile(`(?s)<svg class="drawing.*?</svg>`).ReplaceAllString(reporttest.Written(t, Page, fixture(t)), "[cut]")
	var own []string
	for _, part := range []string{`(?s)<section aria-label="Overview".*?</section>`, `(?s)<nav.*?</nav>`, `(?s)<section aria-labelledby="check".*?</section>`} {
		own = append(own, regexp.MustCompile(part).FindString(page))
	}
	reporttest.Golden(t, "page.html", strings.Join(own, "\n\n")+"\n")
}

func TestPageIsWhole(t *testing.T) {
	reporttest.CheckWhole(t, reporttest.Written(t, Page, fixture(t)), 13)
}

func TestPageIsHarmless(t *testing.T) {
	page := func() string { return reporttest.Written(t, Page, fixture(t)) }
	attacked := fixture(t)
	p := attacked.Plan
	for _, one := range []*model.Project{p.Study.Project, p.Placed, p.Built} {
		one.Room.Name, one.Seats[0].Name, one.KeepClear[0].Name = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	}
	p.Options.States[0].Name = reporttest.Hostile
	attacked.Run = html.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	attacked.File = reporttest.Hostile
	reporttest.CheckHarmless(t, page(), page(), reporttest.Written(t, Page, attacked))
}

// JSON and CSV of the whole plan, places and options left to the tests of their own pages.
func TestTables(t *testing.T) {
	b := reporttest.Written(t, CSV, fixture(t))
	reporttest.Golden(t, "plan.csv", b)
	if err := CSV(reporttest.FullDisk{}, fixture(t)); !errors.Is(err, reporttest.ErrFull) {
		t.Errorf("a full disk is told as %v", err)
	}
	if err := JSON(reporttest.FullDisk{}, fixture(t)); !errors.Is(err, reporttest.ErrFull) {
		t.Errorf("a full disk is told as %v", err)
	}
}

// Each step has a row. Only what now is compared with has marks, and only stages have batts.
func TestGains(t *testing.T) {
	names := func(tab text.Table) (list []string) {
		for _, row := range tab.Rows {
			if len(row) != len(tab.Head) {
				t.Errorf("row %q has %d cells under %d heads", row[0], len(row), len(tab.Head))
			}
			list = append(list, row[0])
		}
		return list
	}
	marked := func(cell string) bool { return strings.ContainsAny(cell, "✓≈✗") }
	r := fixture(t)
	whole := r.gains()
	if diff := cmp.Diff([]string{"nothing: as it is now", "moving, as drawn", "stage 1: double layer behind film", "stage 2: corner fill"}, names(whole)); diff != "" {
		t.Error(diff)
	}
	for i, row := range whole.Rows {
		if marked(strings.Join(row, " ")) != (i > 0) {
			t.Errorf("%q is marked as %q", row[0], row[1:])
		}
	}
	if batts := whole.Head[len(whole.Head)-1]; batts != "batts" || whole.Rows[1][5] != "" || whole.Rows[2][5] != "4" || whole.Rows[3][5] != "3" {
		t.Errorf("the last column is %q: %q", batts, whole.Rows)
	}
	r.Plan.Moved = false
	if got := names(r.gains()); len(got) != 3 || got[1] != "stage 1: double layer behind film" {
		t.Errorf("without a move the rows are %q", got)
	}
	r = quick(t)
	if got := r.gains(); len(names(got)) != 2 || got.Head[len(got.Head)-1] == "batts" {
		t.Errorf("without stages the table is %+v", got)
	}
	r.Plan.Places.Result.Now = nil
	if got := r.gains(); len(names(got)) != 1 || marked(got.Caption) || marked(strings.Join(got.Rows[0], " ")) {
		t.Errorf("without a present layout the table is %+v", got)
	}
}

// Every reason has its words, and what can be done about it is named.
func TestMissingLines(t *testing.T) {
	r := fixture(t)
	for _, c := range []struct {
		missing plan.Missing
		want    string
	}{
		{plan.Missing{Step: plan.CompareOptions, Why: plan.LeftOut}, "Comparing changes: run evenbass plan without --quick."},
		{plan.Missing{Step: plan.ChooseStages, Why: plan.Stopped}, "What to build first: stopped by hand before it was done."},
		{plan.Missing{Step: plan.ChooseStages, Why: plan.OutOfTime}, "What to build first: the time was used up; evenbass stage does it alone."},
		{plan.Missing{Step: plan.CompareOptions, Why: plan.OutOfTime}, "Comparing changes: the time was used up; evenbass whatif does it alone."},
		{plan.Missing{Step: plan.CompareOptions, Why: plan.AllBlocked}, "Comparing changes: each of the options blocks what must stay usable."},
		{plan.Missing{Step: plan.BuildPieces, Why: plan.Nothing}, "What to buy and cut: there is nothing to build yet."},
		{plan.Missing{Step: plan.BuildPieces, Err: errors.New("the slab is too short")}, "What to buy and cut: the slab is too short."},
	} {
		r.Plan.Missing = []plan.Missing{c.missing}
		if diff := cmp.Diff([]string{c.want}, r.missingLines()); diff != "" {
			t.Error(diff)
		}
	}
	r.Plan.Missing = []plan.Missing{{Step: plan.CompareOptions, Why: plan.NoOptions}}
	if got := r.missingLines(); !strings.Contains(got[0], "evenbass whatif --add") {
		t.Errorf("without options: %q", got)
	}
	r.Plan.Study.Project.Stock = nil
	r.Plan.Missing = []plan.Missing{{Step: plan.ChooseStages, Err: errors.New("no stock")}}
	r.Plan.Blocked = []model.BlockedOption{{Option: "heap", By: model.Blocked{Piece: "sack", Obstruction: model.Obstruction{Kind: model.InKeptClear, Name: "way"}}}}
	r.Warnings = []model.Warning{model.Remark("a file could not be read")}
	got := r.missingLines()
	if len(got) != 3 || !strings.Contains(got[0], "give the room file a stock of batts") || !strings.Contains(got[1], `Option "heap": sack`) || !strings.Contains(got[2], "file could not be read") {
		t.Errorf("%q", got)
	}
}
