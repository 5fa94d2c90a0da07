package stage

import (
	"html"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/stage"
	"evenbass/optimize/testroom"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// fixtureHearing is what a fixture's pair gives, with decays that are made up.
func fixtureHearing(seat float64, fall float64) *stage.State {
	l := model.Layout{Left: r3.Vec{X: 0.75, Y: 0.95, Z: 1.06}, Right: r3.Vec{X: 0.75, Y: 2.35, Z: 1.06}, Seat: r3.Vec{X: seat, Y: 1.65, Z: 1.18}}
	goal := model.Goal{From: 30, To: 300, Smoothing: 12}
	pair := reporttest.Pair(model.DefaultGrid(), r3.Vec{X: 4.4, Y: 3.3, Z: 2.4}, l)
	h := &stage.State{Engine: model.EngineInfo{Kind: model.WaveEngine}, Judgement: response.NewReader(model.DefaultGrid(), model.AirAt(0), goal).Judge(pair)}
	h.Robust = h.Judgement.Spread() + 1
	for i, f := range []float64{31.5, 63, 125, 250} {
		h.Decays = append(h.Decays, response.Decay{Band: f, Fall20: fall, Fall30: 1.5 * fall, Filter: []float64{0.07, 0.04, 0.02, 0.01}[i]})
	}
	h.Card = reporttest.Card(response.NewReader(model.DefaultGrid(), model.AirAt(0), goal).Card(pair, h.Decays))
	h.Decays[2].Fall20 = 0
	h.ExcessDecay = response.Lingering(h.Decays, 30, 300)
	return h
}

// fixtureStaging has two stages, one of a mirrored pair.
func fixtureStaging(t testing.TB) Report {
	t.Helper()
	project := testroom.Read(t, "planned-room")
	project.Room.Treatments = nil
	film := model.Layer{Kind: model.FilmLayer, Text: "film 100 µm", SurfaceMass: 0.092, Thickness: 1e-4}
	wool := model.Layer{Kind: model.PorousLayer, Text: "wool 200 mm 6 kPa·s/m²", Thickness: 0.2, Resistivity: 6000}
	left := model.Treatment{Name: "stage 1: double layer behind film, left", Layers: []model.Layer{film, wool}, Patch: model.Patch{Face: model.Left, Along: 0.6, Width: 0.6, Height: 2.4}}
	right := left
	right.Name, right.Patch.Face = "stage 1: double layer behind film, right", model.Right
	corner := model.Treatment{Name: "stage 2: corner fill", Form: model.InCorner, Layers: []model.Layer{wool}, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.42, To: 2.4}}
	planned := *project
	planned.Room.Treatments = []model.Treatment{left, right, corner}
	a, m, z := fixtureHearing(2.4, 0.1), fixtureHearing(2.2, 0.08), fixtureHearing(2.0, 0.05)
	plan := &stage.Plan{Grid: model.DefaultGrid(),
		Goal: project.Goal, Layout: model.Layout{Left: r3.Vec{X: 0.75, Y: 0.95, Z: 1.06}, Right: r3.Vec{X: 0.75, Y: 2.35, Z: 1.06}, Seat: r3.Vec{X: 2, Y: 1.65, Z: 1.18}},
		Batts: []int{12}, Start: a, Possible: 41, Tried: 99, Reason: stage.NoFurtherGains, LeastGain: 0.3,
		Stages: []stage.Stage{
			{Piece: stage.Piece{Name: "a", Kind: stage.FilmedLayer, Batts: 8, Treatments: []model.Treatment{left, right}}, After: m, Gain: a.Score() - m.Score()},
			{Piece: stage.Piece{Name: "b", Kind: stage.Corner, Batts: 3, Treatments: []model.Treatment{corner}}, After: z, Gain: m.Score() - z.Score()},
		},
		Omitted: []stage.Omission{
			{Piece: stage.Piece{Kind: stage.SingleLayer, Batts: 4, Treatments: []model.Treatment{left}}, Gain: -0.4},
			{Piece: stage.Piece{Kind: stage.GappedLayer, Batts: 4, Treatments: []model.Treatment{left}}, Gain: 0.1},
			{Piece: stage.Piece{Kind: stage.DoubleLayer, Batts: 4, Treatments: []model.Treatment{left, right}}, Gain: 0.9},
		},
		Rule: &stage.FixedOrder{Pieces: []stage.Piece{{Name: "x"}}, Batts: 12, After: a},
	}
	return Report{Project: project, Planned: &planned, Plan: plan, Run: htmlpage.Run{Command: "evenbass stage planned-room.yaml", Version: "v0", File: "planned-room.yaml"}}
}

func TestStageTextGolden(t *testing.T) {
	g := fixtureStaging(t)
	reporttest.Golden(t, "stage-short.txt", Text(g))
	reporttest.CheckFits(t, Text(g))
	g.Full = true
	reporttest.Golden(t, "stage-metric.txt", Text(g))
	g.Style = unit.Imperial
	larger := *g.Plan
	larger.Batts = []int{24}
	g.Larger, g.Regret = &larger, &stage.Regret{Kept: 1, After: g.Plan.Start, Loss: 0.7}
	reporttest.Golden(t, "stage-imperial.txt", Text(g))
	reporttest.CheckImperial(t, Text(g))
}

// Where pair and seat move, the text says when and where to, and compares with where they are now.
// What the batts that are left would bring, and why corners are not first, is told too.
func TestStageTextOfMoves(t *testing.T) {
	g := fixtureStaging(t)
	now := *g.Plan.Start
	now.Layout = model.Layout{Left: r3.Vec{X: 0.4, Y: 0.95}, Right: r3.Vec{X: 0.4, Y: 2.35}, Seat: r3.Vec{X: 2.4, Y: 1.65}}
	start, after := *g.Plan.Start, *g.Plan.Stages[1].After
	start.Layout, g.Plan.Stages[0].After.Layout, after.Layout = g.Plan.Layout, g.Plan.Layout, now.Layout
	g.Plan.Now, g.Plan.Start, g.Plan.Stages[1].After, g.Plan.Layout = &now, &start, &after, after.Layout
	piece := g.Plan.Omitted[2].Piece
	g.Plan.Rest = &stage.Extension{Pieces: []stage.Piece{piece}, Batts: 4, After: &after}
	g.Plan.Corners, g.Full = &stage.Alone{Piece: piece, Gain: 1, First: 4}, true
	got := Text(g)
	for _, want := range []string{
		"Placing speakers and seat anew and building 11 of 12 batts", "Move first: woofers 75 cm from the front wall and 140 cm apart, ears 200 cm",
		"After stage 2: woofers 40 cm", "Building 1 piece more from 4 batts that are left makes no difference", "moved",
		"Here the best corner fill alone gains 0.25 dB of\nscore per batt, and stage 1 gains 0.50 dB.",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("text lacks %q:\n%s", want, got)
		}
	}
}

// The plan that was not taken stands beside the one that was, whichever of the two moves; no other, no line.
func TestStageTextOfOtherPlan(t *testing.T) {
	t.Parallel()
	g := fixtureStaging(t)
	if got := Text(g); strings.Contains(got, "worse.") {
		t.Errorf("another plan is told of, and there is none:\n%s", got)
	}
	other := *g.Plan
	now := *g.Plan.Start
	now.Layout = g.Plan.Layout
	g.Plan.Now, g.Plan.Start, g.Plan.Other = &now, &now, &other
	other.Now, other.Start, other.Stages = &now, other.Stages[0].After, other.Stages[:1]
	worse := unit.Decimal(other.End().Score()-g.Plan.End().Score(), 1)
	want := "A plan that places speakers and seat anew first ends, with 8 batts in 1 stage, at a spread of ±13.1 dB, a mean 20 dB decay of 95 ms and a score " + worse + " dB worse."
	if got := strings.Join(strings.Fields(Text(g)), " "); !strings.Contains(got, want) {
		t.Errorf("text lacks %q:\n%s", want, got)
	}
	if page := reporttest.Written(t, Page, g); !strings.Contains(html.UnescapeString(page), want) {
		t.Errorf("the page lacks %q", want)
	}
	if doc := reporttest.Written(t, JSON, g); !strings.Contains(doc, `"moves": true`) || !strings.Contains(doc, `"batts": 8`) {
		t.Errorf("the document lacks the other plan:\n%s", doc)
	}
	other.Other, g.Plan.Other = g.Plan, nil
	g.Plan = &other
	if got := Text(g); !strings.Contains(got, "A plan that leaves speakers and seat where they are (--stay) ends, with 11 batts in 2 stages") {
		t.Errorf("text of a plan that moves:\n%s", got)
	}
}

// Where a corner fill alone gains more than stage 1, that is no reason against corners: the line says what becomes
// of them in the plan.
func TestStageTextOfCorners(t *testing.T) {
	t.Parallel()
	g := fixtureStaging(t)
	g.Plan.Corners = &stage.Alone{Piece: g.Plan.Stages[1].Piece, Gain: 6, First: 4}
	if got := g.cornerLine(); !strings.HasSuffix(got, "gains 2.00 dB of score per batt, and stage 1 gains 0.50 dB. Stage 2 fills corners.") {
		t.Error(got)
	}
	g.Plan.Omitted = append(g.Plan.Omitted, stage.Omission{Piece: g.Plan.Stages[1].Piece, Gain: -0.8})
	g.Plan.Stages = g.Plan.Stages[:1]
	if got := g.cornerLine(); !strings.HasSuffix(got, "But a corner fill makes the score 0.8 dB worse on top of this plan.") {
		t.Error(got)
	}
}

func TestStageTextOfNothing(t *testing.T) {
	g := fixtureStaging(t)
	g.Plan.Stages, g.Plan.Omitted, g.Plan.Rule = nil, nil, nil
	g.Planned = g.Project
	text := Text(g)
	for _, want := range []string{"Leave the batts in their packs", "41 pieces"} {
		if !strings.Contains(text, want) {
			t.Errorf("text lacks %q:\n%s", want, text)
		}
	}
	for _, never := range []string{"Cautions", "stage  build"} {
		if strings.Contains(text, never) {
			t.Errorf("text has %q where nothing is built", never)
		}
	}
	reporttest.Written(t, Page, g)
}

// Every spread stands beside its recipe, and every line fits a terminal.
func TestStageTextKeepsTheRules(t *testing.T) {
	for _, style := range []unit.Style{unit.Metric, unit.Imperial, unit.Both} {
		g := fixtureStaging(t)
		g.Style = style
		got := Text(g)
		if !strings.Contains(got, "30–300 Hz, 1/12 octave") {
			t.Error("no recipe")
		}
		for _, line := range strings.Split(got, "\n") {
			if n := len([]rune(line)); n > text.Columns {
				t.Errorf("%d columns: %s", n, line)
			}
		}
	}
}

func TestStagePage(t *testing.T) {
	text := reporttest.Written(t, Page, fixtureStaging(t))
	for _, want := range []string{
		"double layer behind film", "makes the score 0.4 dB worse", "not worth the work", "but only 1 batt is left",
		"Fibres and dust", `id="response-drawing"`, "Per batt",
	} {
		if !strings.Contains(html.UnescapeString(text), want) {
			t.Errorf("page lacks %q", want)
		}
	}
	reporttest.CheckWhole(t, text, 7)
	attacked := fixtureStaging(t)
	attacked.Project.Room.Name, attacked.Planned.Room.Name, attacked.Plan.Start.Engine.Kind = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	attacked.Run = htmlpage.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	for i := range attacked.Planned.Room.Treatments {
		attacked.Planned.Room.Treatments[i].Name = reporttest.Hostile
	}
	reporttest.CheckHarmless(t, text, reporttest.Written(t, Page, fixtureStaging(t)), reporttest.Written(t, Page, attacked))
}

// The document holds each stage with its gain against the room as it stands, and says that nothing was measured.
func TestJSON(t *testing.T) {
	b := reporttest.Written(t, JSON, fixtureStaging(t))
	reporttest.Golden(t, "stage.json", b)
}

// A decay that changes by less than the prediction can tell is not printed like a gain.
func TestStageLineOfEqualDecays(t *testing.T) {
	t.Parallel()
	g := fixtureStaging(t)
	g.Plan.Stages[0].After.Card.Fall.Mean = g.Plan.Start.Card.Fall.Mean - 0.001
	if line := g.lines()[0]; !strings.HasSuffix(line, "mean 20 dB decay about the same (109 ms)") {
		t.Errorf("stage 1: %s", line)
	}
}

// Nor is a spread.
func TestStageLineOfEqualSpreads(t *testing.T) {
	t.Parallel()
	g := fixtureStaging(t)
	start, after := g.Plan.Start, g.Plan.Stages[0].After
	after.Judgement, after.Card.Spread = start.Judgement, start.Card.Spread
	if line, want := g.lines()[0], "spread the same ("+spread(start)+"), "; !strings.Contains(line, want) {
		t.Errorf("stage 1: %s, want %q", line, want)
	}
	after.Judgement.Figures[0].Spread += 0.3
	after.Judgement.Figures[1].Spread, after.Judgement.Figures[2].Spread = after.Judgement.Figures[0].Spread, after.Judgement.Figures[0].Spread
	after.Card.Spread += 0.3
	if line, want := g.lines()[0], "spread about the same ("+spread(after)+", "+spread(start)+" before), "; !strings.Contains(line, want) {
		t.Errorf("stage 1: %s, want %q", line, want)
	}
}
