package place

import (
	"io"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/study"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

func pageFile(t *testing.T, in Report) string {
	t.Helper()
	return reporttest.File(t, func(w io.Writer) error { return Page(w, in) }, html.ErrNoLibrary)
}

// The page in a real browser: drawn, quiet, harmless, fit for a phone and for
// paper.
func TestBrowser(t *testing.T) {
	browser := reporttest.NewBrowser(t)
	in := fixtureInput(model.DefaultGrid())
	in.Floor = reporttest.Survey(in.Project, in.best().Layout)
	in.Fading = fixtureFading(t, &in)
	in.Run.Titles = model.TitleBlock{Client: "The upstairs quartet", Project: "No. 7", Author: "The house next door", Notes: []string{"Drafted from a sketch."}}
	in.Project.Seats = append(in.Project.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.6, Y: 1.2, Z: 1}})
	address := pageFile(t, in)
	for _, scheme := range []string{"light", "dark"} {
		t.Run(scheme, func(t *testing.T) {
			b := reporttest.NewTab(t, browser)
			testDrawn(t, b, address, scheme)
			if scheme == "light" { // other colours are held to their contrast in report/html
				t.Run("barriers", b.CheckBarriers)
			}
		})
	}
	t.Run("hostile", func(t *testing.T) { testHostile(t, reporttest.NewTab(t, browser)) })
	t.Run("phone", func(t *testing.T) { testPhone(t, reporttest.NewTab(t, browser), address) })
	t.Run("pieces", func(t *testing.T) { testPieces(t, reporttest.NewTab(t, browser), in) })
	t.Run("print", func(t *testing.T) { testPrint(t, reporttest.NewTab(t, browser), address) })
}

// With seven pieces to build, and caveats as long as they come, the client still gets two sheets, in either unit
// and in both.
func testPieces(t *testing.T, b *reporttest.Tab, in Report) {
	room := in.Project.Room
	project := *in.Project
	in.Project = &project
	wool := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000}}
	for i, name := range []string{"rear layer", "front left corner", "front right corner", "cloud", "left panel", "right panel", "bag"} {
		face := model.Faces[i%len(model.Faces)]
		patch := model.Patch{Face: face, Along: 0.2, Up: 0.3, Width: 1.2, Height: 0.6}
		if i == 6 {
			patch.Along = 1.6
		}
		room.Treatments = append(room.Treatments, model.Treatment{Name: name, Form: model.OnWall, Patch: patch, Layers: wool})
	}
	in.Project.Room = room
	in.Warnings = []model.Warning{
		model.Simplified{How: model.BlocksOmitted, Names: strings.Repeat("a wardrobe of the grandparents, ", 12) + "a shelf"},
		model.Simplified{How: model.ImpedanceAcausal, Names: "front wall (0.31), back wall (0.22), left wall (0.19), right wall (0.17), floor (0.12) and ceiling (0.08)"},
	}
	for style, want := range map[unit.Style]string{unit.Metric: " crowded", unit.Imperial: " crowded", unit.Both: " crowded full"} {
		in.Style = style
		if got := crowding(&room, style); got != want {
			t.Errorf("%v: the sheet is %q, want %q", style, got, want)
		}
		b.Run(t, chromedp.EmulateViewport(1120, 900), chromedp.Navigate(pageFile(t, in)))
		if got := reporttest.Value[int](t, b, `document.querySelectorAll(".lead .trust").length`); got != 3 {
			t.Errorf("%v: %d sentences of trust on the first sheet, want one and two caveats", style, got)
		}
		if got := reporttest.Value[int](t, b, `document.querySelectorAll(".pieces tbody tr").length`); got != 7 {
			t.Fatalf("%v: %d pieces", style, got)
		}
		for paper, size := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			if n := b.Sheets(t, size); n != 2 {
				t.Errorf("%v, %s: %d sheets, want 2", style, paper, n)
			}
		}
	}
}

// fixtureFading is how long tones stay in the fixture's layouts.
func fixtureFading(t *testing.T, in *Report) study.Fading {
	t.Helper()
	signal := func(l model.Layout) *spectraldecay.Signal {
		pair := reporttest.Pair(response.DecayGrid(), in.Project.Room.Size, l)
		s, err := spectraldecay.Transfer(response.DecayGrid(), pair.Of(response.BothTogether), in.Project.Room.Air())
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	return study.Fading{Now: signal(in.Result.Now.Layout), Best: signal(in.best().Layout)}
}

// What is drawn in a colour role: the first graph's curves and how wide they are.
const leadCurves = `[...document.querySelectorAll("#response-drawing .curve")].map(c =>
	getComputedStyle(c).stroke + " " + (c.getBoundingClientRect().width > 300)).join("; ")`

// The first graph has the present curve and that of layout 1 in the colours asked for, without
// a script; the maps behind it answer.
func testDrawn(t *testing.T, b *reporttest.Tab, address, scheme string) {
	b.Run(t, reporttest.Colours(scheme), chromedp.Navigate(address))
	if got := reporttest.Value[string](t, b, `document.title`); got != "Spare room: places for loudspeakers and listener" {
		t.Errorf("title is %q", got)
	}
	paper, curves := "rgb(251, 250, 246)", "rgb(95, 100, 104) true; rgb(0, 104, 163) true"
	if scheme == "dark" {
		paper, curves = "rgb(21, 25, 28)", "rgb(171, 176, 179) true; rgb(99, 189, 240) true"
	}
	if got := reporttest.Value[string](t, b, reporttest.PaperColour); got != paper {
		t.Errorf("the paper is %s", got)
	}
	if got := reporttest.Value[string](t, b, leadCurves); got != curves {
		t.Errorf("the curves are %s, want %s", got, curves)
	}
	b.Run(t, reporttest.ForcedColours())
	seen := strings.Split(reporttest.Value[string](t, b, leadCurves), "; ")
	if paper := reporttest.Value[string](t, b, reporttest.PaperColour) + " true"; len(seen) != 2 || seen[0] == seen[1] || seen[0] == paper || seen[1] == paper {
		t.Errorf("in forced colours the curves are %q on %s", seen, paper)
	}
	b.Run(t, reporttest.Colours(scheme))
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("details.fold h2#floor").length && document.querySelectorAll("figure.floor svg[tabindex='0']").length`); got != 6 {
		t.Errorf("%d of 6 maps answer", got)
	}
	if got := reporttest.Value[string](t, b, `[...document.querySelectorAll(".fading figure svg > title, .fading figure [role=img]")].length > 1 && document.querySelector("#fading").closest("details").textContent.includes("Layout 1") ? "both" : "not both"`); got != "both" {
		t.Errorf("how long tones stay is drawn for %s states", got)
	}
	if got := reporttest.Value[string](t, b, reporttest.TurnTuner(0)); !strings.Contains(got, "at 30.0 Hz") {
		t.Errorf("the map is called %q", got)
	}
	b.Quiet(t)
}

// A room whose name is a script is shown by its name, and no script but the
// page's own runs.
func testHostile(t *testing.T, b *reporttest.Tab) {
	in := hostileInput()
	in.Project.Room.Blocks[0].Name = strings.Repeat("W", 200)
	in.Run.Titles.Client, in.Run.Titles.Notes = in.Project.Room.Blocks[0].Name, []string{in.Project.Room.Blocks[0].Name}
	b.Run(t, chromedp.Navigate(pageFile(t, in)))
	if got := reporttest.Value[string](t, b, `document.querySelector("h1").textContent`); !strings.HasPrefix(got, "</script><script>alert(1)</script>") {
		t.Errorf("the room is called %q", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("img, script:not([type])").length`); got != 1 {
		t.Errorf("%d scripts and pictures, want the page's one script", got)
	}
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile))
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), document.documentElement.scrollWidth`); got > 390 {
		wide := reporttest.Value[string](t, b, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > 400 && !e.closest(".scroll, pre")).slice(0, 5).map(e => e.tagName + "." + e.className).join(", ")`)
		t.Errorf("with long names the page is %d wide on a screen of 390: %s", got, wide)
	}
	b.Quiet(t)
}

// On a phone nothing but wide tables reaches beyond the screen, and those scroll
// by themselves; letters in drawings are large enough.
func testPhone(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate(address))
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("details").forEach(d => d.open = true), document.documentElement.scrollWidth`); got > 390 {
		t.Errorf("the page is %d wide on a screen of 390", got)
	}
	if got := reporttest.Value[float64](t, b, `document.querySelector("#response-narrow-drawing").getBoundingClientRect().right`); got > 390 || got < 200 {
		t.Errorf("the graph reaches to %v", got)
	}
	if got := reporttest.Value[float64](t, b, reporttest.Smallest); got < 11 {
		t.Errorf("letters in drawings are %.1f px", got)
	}
	if got := reporttest.Value[string](t, b, `getComputedStyle(document.querySelector("#response-drawing").parentNode).display`); got != "none" {
		t.Errorf("the graph for wide screens is shown as %s", got)
	}
	b.Quiet(t)
}

// The page prints the client's two sheets on both papers, from a dark screen too, and the
// appendix only on request; it is dark and folded again afterwards.
func testPrint(t *testing.T, b *reporttest.Tab, address string) {
	b.Run(t, reporttest.Colours("dark"), chromedp.EmulateViewport(1120, 900), chromedp.Navigate(address))
	b.CheckSheets(t, 2, 14)
	if got := reporttest.Value[string](t, b, reporttest.PaperColour); got != "rgb(21, 25, 28)" {
		t.Errorf("after printing the paper is %s", got)
	}
	if got := reporttest.Value[int](t, b, `document.querySelectorAll("details[open]").length`); got != 0 {
		t.Errorf("after printing %d parts are open", got)
	}
	b.Quiet(t)
}
