package build

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// gable puts the example room, 3.3 m wide and 2.4 m high, under a ridge with eaves of 1.3 m, with wool on its back
// wall, on its front wall beside the middle, and on the ceiling past the ridge.
func gable(p *model.Project) {
	r := &p.Room
	half := r.Size.Y / 2
	r.Slopes = []model.Slope{
		{Through: [3]r3.Vec{{Z: 1.3}, {X: 1, Z: 1.3}, {Y: half, Z: r.Size.Z}}},
		{Through: [3]r3.Vec{{Y: r.Size.Y, Z: 1.3}, {X: 1, Y: r.Size.Y, Z: 1.3}, {Y: half, Z: r.Size.Z}}},
	}
	r.Openings = nil
	wool := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Text: "wool 100 mm 6 kPa·s/m²"}}
	r.Treatments = []model.Treatment{
		{Name: "gable", Patch: model.Patch{Face: model.Back, Width: 3.3, Height: 2.4}, Layers: wool},
		{Name: "tip", Patch: model.Patch{Face: model.Front, Along: 1.35, Up: 1.2, Width: 0.6, Height: 1.2}, Layers: wool},
		{Name: "roof", Patch: model.Patch{Face: model.Ceiling, Along: 1, Up: 1, Width: 1.2, Height: 1.3}, Layers: wool},
	}
}

// How pieces are cut along a slope, in words; the golden was checked by hand: tan 33.7° is 1.1 m over 1.65 m.
func TestTrimmedTextGolden(t *testing.T) {
	b := fixtureBuilding(t, gable)
	reporttest.CheckFits(t, Text(b))
	b.Full = true
	reporttest.Golden(t, "build-slope.txt", Text(b))
	b.Style = unit.Imperial
	reporttest.CheckImperial(t, Text(b))
	for _, step := range b.steps() {
		reporttest.CheckImperial(t, strings.Join(step.Lines, "\n"))
	}
}

// By hand: who faces the back wall sees what is near the left wall on the right. A piece 0.6 m wide that rises
// from 1 m to 1.4 m away from the left wall falls from the left there; on the front wall it rises.
func TestTrimmedAsFaced(t *testing.T) {
	t.Parallel()
	outline := model.Polygon{{}, {X: 0.6}, {X: 0.6, Y: 1.4}, {Y: 1}}
	for _, c := range []struct {
		face model.Face
		ends [2]float64
		text string
	}{
		{model.Front, [2]float64{1, 1.4}, "72.1 cm, rises at 33.7°"},
		{model.Right, [2]float64{1, 1.4}, "72.1 cm, rises at 33.7°"},
		{model.Back, [2]float64{1.4, 1}, "72.1 cm, falls at 33.7°"},
		{model.Left, [2]float64{1.4, 1}, "72.1 cm, falls at 33.7°"},
	} {
		b := Report{Project: &model.Project{Room: model.Room{Treatments: []model.Treatment{{Patch: model.Patch{Face: c.face}}}}}}
		seen := b.faced(&build.Piece{Width: 0.6, Height: 1.4, Outline: outline})
		if ends := seen.Ends(); math.Abs(ends[0]-c.ends[0])+math.Abs(ends[1]-c.ends[1]) > 1e-9 {
			t.Errorf("%v: sides of %v m, want %v", c.face, ends, c.ends)
		}
		if list := edges(seen); len(list) != 1 || b.edgeText(list[0]) != c.text {
			t.Errorf("%v: edges %v, want %q", c.face, list, c.text)
		}
	}
}

// Ends of frame parts are told once if both are alike, the smaller angle first if not.
func TestEndsText(t *testing.T) {
	t.Parallel()
	for want, ends := range map[string][2]float64{
		"": {}, " with both ends at 45°": {math.Pi / 4, math.Pi / 4}, " with one end at 22.5°": {math.Pi / 8, 0},
		" with ends at 22.5° and 45°": {math.Pi / 4, math.Pi / 8},
	} {
		if got := endsText(ends); got != want {
			t.Errorf("%v: %q, want %q", ends, got, want)
		}
	}
}

// The drawing of a wall ends at its slopes and holds each piece, trimmed ones with their slanting edges below the
// wall's.
func TestTrimmedPiecesAreDrawn(t *testing.T) {
	b := fixtureBuilding(t, gable)
	for _, f := range []model.Face{model.Front, model.Back} {
		v := newWallView(&b.Project.Room, f, svg.Wide)
		if n := len(v.outline(&b.Project.Room)); n != 5 {
			t.Errorf("the %s has %d corners, want those of a gable", f.Wall(), n)
		}
		for _, h := range b.on(f) {
			if (h.outline == nil) != (b.Plan.Pieces[h.piece].Outline == nil) {
				t.Errorf("%s: drawn with %v", b.mark(h.piece), h.outline)
			}
			for _, c := range h.outline {
				if place := (r2.Vec{Y: c.X}); c.Y > b.Project.Room.CeilingAt(place)-model.SlopeClearance {
					t.Errorf("%s is drawn up to %g m at %g m, within 1 cm of the slope", b.mark(h.piece), c.Y, c.X)
				}
			}
		}
	}
	text := reporttest.Written(t, Page, b)
	reporttest.CheckWhole(t, text, 7)
	if !strings.Contains(text, "Face of ") || !strings.Contains(text, "sliding bevel") || !strings.Contains(text, "Fix the panels to the ceiling") {
		t.Error("the page leaves out how to cut or hold what the slope trims")
	}
}

// The table of pieces holds the corners of those that a slope trims.
func TestTrimmedTables(t *testing.T) {
	b := fixtureBuilding(t, gable)
	for _, table := range Tables(b) {
		rows := rowsOf(t, table)
		switch table.File {
		case "pieces.csv":
			for i, row := range rows[1:] {
				p := &b.Plan.Pieces[i]
				if n := strings.Count(row[len(row)-1], ";"); (n > 0) != (p.Outline != nil) || n > 0 && n+1 != len(p.Outline) {
					t.Errorf("%s: corners %q, want those of %v", row[0], row[len(row)-1], p.Outline)
				}
			}
		case "cuts.csv":
			kinds := map[string]int{}
			for _, row := range rows[1:] {
				kinds[row[3]]++
			}
			if kinds["rectangle"] == 0 || kinds["pentagon"] == 0 || kinds["triangle"] == 0 {
				t.Errorf("shapes %v", kinds)
			}
		}
	}
}

// In a browser: fit for a phone, and nothing beyond the sides of a drawing.
func TestTrimmedBrowser(t *testing.T) {
	b := reporttest.NewTab(t, reporttest.NewBrowser(t))
	path := filepath.Join(t.TempDir(), "build.html")
	if err := os.WriteFile(path, []byte(reporttest.Written(t, Page, fixtureBuilding(t, gable))), 0o644); err != nil {
		t.Fatal(err)
	}
	b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile), chromedp.Navigate("file://"+path))
	b.CheckPhone(t)
	outside := `[...document.querySelectorAll("svg")].filter(s => { const v = s.getBoundingClientRect();
		return [...s.querySelectorAll("rect, path, text")].some(e => { const b = e.getBoundingClientRect(); return b.left < v.left - 2 || b.right > v.right + 2 }) }).length`
	if got := reporttest.Value[int](t, b, outside); got != 0 {
		t.Errorf("%d drawings have something beyond their sides", got)
	}
	b.Quiet(t)
}
