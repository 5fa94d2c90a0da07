package build

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/rivo/uniseg"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/optimize/testroom"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// fixtureBuilding plans the example room, changed by the caller.
func fixtureBuilding(t testing.TB, change func(*model.Project)) Report {
	t.Helper()
	p := testroom.Read(t, "planned-room")
	if change != nil {
		change(p)
	}
	plan, err := build.Make(p)
	if err != nil {
		t.Fatal(err)
	}
	return Report{Project: p, Plan: plan, Run: htmlpage.Run{
		Command: "evenbass build planned-room.yaml", Version: "v0", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC), File: "planned-room.yaml",
	}}
}

func TestBuildTextGolden(t *testing.T) {
	metric := fixtureBuilding(t, nil)
	reporttest.Golden(t, "build-short.txt", Text(metric))
	reporttest.CheckFits(t, Text(metric))
	metric.Full = true
	reporttest.Golden(t, "build-metric.txt", Text(metric))
	imperial := fixtureBuilding(t, func(p *model.Project) {
		b := &p.Stock.Batts[0]
		b.Length, b.Width, b.Layer.Thickness = 48*0.0254, 24*0.0254, 4*0.0254
		p.Stock.Rental, p.Stock.Currency = true, "USD"
	})
	imperial.Style, imperial.Full = unit.Imperial, true
	reporttest.Golden(t, "build-imperial.txt", Text(imperial))
	reporttest.CheckImperial(t, Text(imperial))
	noStock := fixtureBuilding(t, func(p *model.Project) { p.Stock = nil })
	noStock.Style, noStock.Full = unit.Imperial, true
	if text := Text(noStock); strings.Contains(text, " mm") || !strings.Contains(text, "6 ft 6 3/4 in wide") {
		t.Errorf("what was assumed is not in inches:\n%s", text)
	}
	for _, step := range imperial.steps() {
		reporttest.CheckImperial(t, strings.Join(step.Lines, "\n"))
	}
}

// Nothing is wider than a terminal, and no control character reaches it.
func TestBuildTextFits(t *testing.T) {
	b := hostileBuilding(t)
	b.Full = true
	for _, s := range []unit.Style{unit.Metric, unit.Imperial, unit.Both} {
		b.Style = s
		for i, line := range strings.Split(Text(b), "\n") {
			if n := uniseg.StringWidth(line); n > text.Columns {
				t.Errorf("%v, line %d has %d columns: %s", s, i+1, n, line)
			}
			if strings.ContainsAny(line, "\x1b\u2028\r") {
				t.Errorf("%v, line %d has a control character: %q", s, i+1, line)
			}
		}
	}
}

// hostileBuilding puts reporttest.Hostile text into every field that a user fills.
func hostileBuilding(t testing.TB) Report {
	b := fixtureBuilding(t, func(p *model.Project) {
		p.Room.Name = reporttest.Hostile
		for i := range p.Room.Treatments {
			p.Room.Treatments[i].Name = reporttest.Hostile
		}
		p.KeepClear[0].Name = reporttest.Hostile
		s := p.Stock
		s.Currency, s.Dated = "</script>", reporttest.Hostile
		s.Batts[0].Name, s.Batts[1].Name, s.Films[0].Name, s.Cloths[0].Name, s.Bags[0].Name, s.Timber[0].Name = reporttest.Hostile, "=1+1", reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
		s.Batts[0].Layer.Resistivity = 30000 // so that there is a note with the name
		s.Free[0].Name = reporttest.Hostile
		s.Cover = s.Cover[:1]
	})
	b.Option, b.Run.Command, b.Run.Version, b.Run.Source, b.Run.File = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	return b
}

func TestBuildPageIsHarmless(t *testing.T) {
	page := func() string { return reporttest.Written(t, Page, fixtureBuilding(t, nil)) }
	reporttest.CheckHarmless(t, page(), page(), reporttest.Written(t, Page, hostileBuilding(t)))
}

// Each kind of piece has a step beside those of every plan, with a caution. A kind past the last has no name, and
// fmt prints its panic.
func TestEveryKindHasAStep(t *testing.T) {
	b := fixtureBuilding(t, nil)
	b.Plan.Pieces = nil
	common := len(b.steps())
	for k := build.Kind(0); !strings.Contains(fmt.Sprint(k), "PANIC"); k++ {
		b.Plan.Pieces = []build.Piece{{Kind: k}}
		list := b.steps()
		if len(list) <= common {
			t.Errorf("nothing says how to put up a %v", k)
		}
		for _, s := range list {
			if len(s.Cautions) == 0 {
				t.Errorf("a %v: the step %q has no caution", k, s.Title)
			}
		}
	}
}

// Every mark of a piece is in the drawing of its wall, and each step has a caution.
func TestBuildPageIsWhole(t *testing.T) {
	b := fixtureBuilding(t, nil)
	text := reporttest.Written(t, Page, b)
	reporttest.CheckWhole(t, text, 9)
	if got := len(b.faces()); got != 5 {
		t.Errorf("%d walls with pieces, want all but the floor", got)
	}
	for _, f := range b.faces() {
		d, drawn := b.newWall(f, svg.Wide), map[string]bool{}
		for _, s := range d.Shapes {
			if s.Kind == "text" && s.Class == "mark" {
				drawn[s.Text] = true
			}
		}
		for _, h := range b.on(f) {
			if !drawn[b.mark(h.piece)] {
				t.Errorf("%s is not drawn on the %s", b.mark(h.piece), f.Wall())
			}
		}
	}
	for _, s := range b.steps() {
		if len(s.Lines) == 0 || len(s.Cautions) == 0 {
			t.Errorf("step %q has %d lines and %d cautions", s.Title, len(s.Lines), len(s.Cautions))
		}
	}
}

// By hand: who faces the back wall has the right wall on the left hand; who faces the
// left wall, the back wall.
func TestWallsAsSeen(t *testing.T) {
	t.Parallel()
	b := fixtureBuilding(t, nil) // 4.40 x 3.30 x 2.40 m
	for _, c := range []struct {
		face     model.Face
		along    float64
		from, to float64
		corner   string
	}{
		{model.Front, 0.2, 0.2, 0.8, "left wall"},
		{model.Back, 0.2, 2.5, 3.1, "right wall"},
		{model.Left, 0.2, 3.6, 4.2, "back wall"},
		{model.Right, 0.2, 0.2, 0.8, "front wall"},
	} {
		v := newWallView(&b.Project.Room, c.face, svg.Wide)
		across, up := v.span(model.Patch{Face: c.face, Along: c.along, Up: 0.5, Width: 0.6, Height: 1})
		if math.Abs(across.Min-c.from) > 1e-9 || math.Abs(across.Max-c.to) > 1e-9 || up != (model.Range{Min: 0.5, Max: 1.5}) || v.leftCorner() != c.corner {
			t.Errorf("%v: %v from the %s, %v up", c.face, across, v.leftCorner(), up)
		}
		low, high := v.Rect(model.Patch{Face: c.face, Width: 1, Height: 0.1}), v.Rect(model.Patch{Face: c.face, Up: 2, Width: 1, Height: 0.1})
		if high.Y >= low.Y {
			t.Errorf("%v: what is up is drawn down", c.face)
		}
	}
}

func TestBuildWithoutTreatments(t *testing.T) {
	b := fixtureBuilding(t, func(p *model.Project) { p.Room.Treatments = nil })
	if got := Text(b); !strings.Contains(got, "There is nothing to build: the room has no treatments.") || strings.Contains(got, "Caution") {
		t.Errorf("%s", got)
	}
	if text := reporttest.Written(t, Page, b); strings.Contains(text, "What to buy</h2>") {
		t.Error("a shopping list of nothing")
	}
}

// Equal phrases that follow one another are counted.
func TestGathered(t *testing.T) {
	t.Parallel()
	if got := strings.Join(gathered([]string{"post", "post", "rail", "post"}), ", "); got != "2 × post, rail, post" {
		t.Errorf("%q", got)
	}
}

// Prices: none, some, all; of all in hand.
func TestBuildPrices(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*model.Project)
		want   string
	}{
		{"no stock", func(p *model.Project) { p.Stock = nil }, "The cost is unknown: nothing on the shopping list has a price."},
		{"some", nil, "cost 150.80 to 155.80 EUR, plus those without a price."},
		{"without currency", func(p *model.Project) { p.Stock.Currency = "" }, "cost 150.80 to 155.80, plus"},
	} {
		if got := fixtureBuilding(t, c.change); !strings.Contains(got.headline(), c.want) {
			t.Errorf("%s: %s", c.name, got.headline())
		}
	}
}

func TestBuildRental(t *testing.T) {
	b := fixtureBuilding(t, func(p *model.Project) { p.Stock.Rental = true })
	text := strings.ToLower(html.UnescapeString(reporttest.Written(t, Page, b)))
	for _, no := range []string{"a plug or screw", "screwed into", "with a screw", "screw the rails"} {
		if strings.Contains(text, no) {
			t.Errorf("a page for a rented room says %q", no)
		}
	}
	for _, want := range []string{"no holes", "braced between floor and ceiling", "rented"} {
		if !strings.Contains(text, want) {
			t.Errorf("a page for a rented room does not say %q", want)
		}
	}
}

// rowsOf writes a table and reads it back.
func rowsOf(t *testing.T, table Table) [][]string {
	t.Helper()
	var out bytes.Buffer
	if err := table.Write(&out); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// The tables read back: as many rows as there are things, sizes in mm, cells that no
// spreadsheet takes for a formula.
func TestBuildTables(t *testing.T) {
	b := fixtureBuilding(t, nil)
	tables := map[string][][]string{}
	for _, table := range Tables(b) {
		rows := rowsOf(t, table)
		tables[table.File] = rows
		if err := table.Write(reporttest.FullDisk{}); err == nil {
			t.Errorf("%s: a full disk is not said", table.File)
		}
	}
	if rows := tables["pieces.csv"]; len(rows) != 1+len(b.Plan.Pieces) || strings.Join(rows[1][:9], ",") != "d1,rear layer,wall panel,600,1200,200,4199.9,200,0" {
		t.Errorf("%d rows, first %v", len(rows), rows[1])
	}
	if rows := tables["shopping.csv"]; len(rows) != 1+len(b.Plan.Items) || strings.Join(rows[1][:8], ",") != "wool,partition slab,batts,27,29,24,1,pack of 8" {
		t.Errorf("%d rows, first %v", len(rows), rows[1])
	}
	wool := 0
	for _, row := range tables["cuts.csv"][1:] {
		if row[0] == "partition slab" {
			wool++
		}
		if n := strings.Count(row[6], ";") + 1; n != 3 && n != 4 {
			t.Errorf("a shape with %d corners: %v", n, row)
		}
		if _, err := strconv.ParseFloat(row[4], 64); err != nil {
			t.Error(err)
		}
	}
	if want := 12 + 24 + 24 + 3 + 2 + 2 + 2; wool != want {
		t.Errorf("%d parts of wool, want %d", wool, want)
	}
}

// In a browser: quiet, fit for a phone, and on paper a sheet for each wall at least.
func TestBuildBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	path := filepath.Join(t.TempDir(), "build.html")
	if err := os.WriteFile(path, []byte(reporttest.Written(t, Page, fixtureBuilding(t, nil))), 0o644); err != nil {
		t.Fatal(err)
	}
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate("file://"+path))
	b.CheckPhone(t)
	if got := reporttest.Value[int](t, b, `document.querySelectorAll(".wallsheet .wideform svg").length`); got != 5 {
		t.Errorf("%d walls are drawn", got)
	}
	outside := `[...document.querySelectorAll("svg")].filter(s => { const v = s.getBoundingClientRect();
		return [...s.querySelectorAll("rect, path, text")].some(e => { const b = e.getBoundingClientRect(); return b.left < v.left - 2 || b.right > v.right + 2 }) }).length`
	if got := reporttest.Value[int](t, b, outside); got != 0 {
		t.Errorf("%d drawings have something beyond their sides", got)
	}
	pdf := reporttest.Answer(t, b, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperLetter)))
	if sheets := bytes.Count(pdf, []byte("/Type /Page\n")); sheets < 9 || sheets > 18 {
		t.Errorf("%d sheets", sheets)
	}
	b.Quiet(t)
}

// Whoever drills is told to find cables and pipes first, at the step and on the sheet of the wall; in a rented room
// nobody drills.
func TestDrillingCaution(t *testing.T) {
	t.Parallel()
	for _, rented := range []bool{false, true} {
		b := fixtureBuilding(t, func(p *model.Project) { p.Stock.Rental = rented })
		page := reporttest.Written(t, Page, b)
		steps, sheets := 0, strings.Count(page, "Find cables and pipes with a detector")
		for _, s := range b.steps() {
			if slices.ContainsFunc(s.Cautions, func(c text.Caution) bool { return c.Title == "Drilling" }) {
				steps++
			}
		}
		if want := !rented; steps > 0 != want || sheets > steps != want {
			t.Errorf("rented %v: %d steps and %d places warn of drilling", rented, steps, sheets)
		}
	}
}

// Parts larger than their frame are explained where wool is cut; frames as large as their batts need no word.
func TestPressedWoolIsSaid(t *testing.T) {
	t.Parallel()
	pressed := fixtureBuilding(t, func(p *model.Project) { p.Room.Treatments[4].Patch.Height = 1.185 })
	exact := fixtureBuilding(t, nil)
	for want, b := range map[bool]Report{true: pressed, false: exact} {
		if got := strings.Contains(strings.Join(b.woolLines(), "\n"), "up to 2 cm larger than the piece"); got != want {
			t.Errorf("said %v, want %v", got, want)
		}
	}
}
