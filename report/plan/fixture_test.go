package plan

import (
	"testing"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/plan"
	"evenbass/optimize/score"
	"evenbass/optimize/stage"
	"evenbass/optimize/study"
	"evenbass/optimize/testroom"
	"evenbass/optimize/whatif"
	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// The fixture is the example room that is about to be treated, planned in full: four layouts, an
// option, two stages and what to build for them. Its curves come from a few mirror images, its decays
// are made up.

// fixture returns the report of a whole plan.
func fixture(t testing.TB) Report {
	t.Helper()
	project := testroom.Read(t, "planned-room")
	project.Room.Treatments = nil
	engine := testroom.Over(reporttest.CoarseGrid(), project.Room.Size)
	places := &study.Places{Result: reporttest.Result(engine.Grid(), project)}
	best := &places.Result.Candidates[0]
	places.Faults = []study.LayoutFaults{
		{Faults: reporttest.Dips(engine.Grid(), project, places.Result.Now, cause.Suspect{Boundary: model.Back, Distances: [2]float64{2.25, 2.25}})},
		{Number: 1, Faults: reporttest.Dips(engine.Grid(), project, best, cause.Suspect{Boundary: model.Ceiling})},
	}
	p := &plan.Plan{
		Study:  &study.Study{Project: project, Engine: engine},
		Places: places, Moved: true, Placed: project.WithLayout(best.Layout),
	}
	p.Stages = fixtureStages(p.Placed, best)
	p.Built = p.Stages.Planned
	var err error
	if p.Pieces, err = build.Make(p.Built); err != nil {
		t.Fatal(err)
	}
	p.Options = fixtureOptions(p.Placed, best)
	return Report{Plan: p, File: "planned-room.yaml", Run: html.Run{Command: "evenbass plan planned-room.yaml -o plan.html", Version: "v0", File: "planned-room.yaml"}}
}

// fixtureStages builds a layer behind film, then fills a corner.
func fixtureStages(placed *model.Project, from *score.Candidate) *study.Stages {
	film := model.Layer{Kind: model.FilmLayer, Text: "film 100 µm", SurfaceMass: 0.092, Thickness: 1e-4}
	wool := model.Layer{Kind: model.PorousLayer, Text: "wool 200 mm 6 kPa·s/m²", Thickness: 0.2, Resistivity: 6000}
	layer := model.Treatment{Name: "stage 1: double layer behind film", Layers: []model.Layer{film, wool}, Patch: model.Patch{Face: model.Left, Along: 0.6, Width: 0.6, Height: 2.4}}
	corner := model.Treatment{Name: "stage 2: corner fill", Form: model.InCorner, Layers: []model.Layer{wool}, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.42, To: 2.4}}
	planned := *placed
	planned.Room.Treatments = []model.Treatment{layer, corner}
	start, first, last := fixtureState(from, 1, 0.12), fixtureState(from, 0.8, 0.10), fixtureState(from, 0.65, 0.07)
	return &study.Stages{Planned: &planned, Plan: &stage.Plan{
		Grid: reporttest.CoarseGrid(), Goal: placed.Goal, Layout: from.Layout, Batts: []int{12}, Start: start, Possible: 41, Tried: 99, Reason: stage.NoFurtherGains, LeastGain: 0.3,
		Stages: []stage.Stage{
			{Piece: stage.Piece{Name: "a", Kind: stage.FilmedLayer, Batts: 4, Treatments: []model.Treatment{layer}}, After: first, Gain: start.Score() - first.Score()},
			{Piece: stage.Piece{Name: "b", Kind: stage.Corner, Batts: 3, Treatments: []model.Treatment{corner}}, After: last, Gain: first.Score() - last.Score()},
		},
	}}
}

// fixtureState is a layout whose spread is a share of what it was, and whose decays take fall, s.
func fixtureState(from *score.Candidate, share model.Level, fall float64) *stage.State {
	s := &stage.State{Engine: model.EngineInfo{Kind: model.WaveEngine}, Layout: from.Layout, Judgement: from.Judgement, Card: from.Card}
	for c := range s.Judgement.Figures {
		s.Judgement.Figures[c].Spread *= share
	}
	for i, f := range []float64{31.5, 63, 125, 250} {
		s.Decays = append(s.Decays, response.Decay{Band: f, Fall20: fall, Fall30: 1.5 * fall, Filter: 0.07 / float64(i+1)})
	}
	s.Card.Spread, s.Card.Deviation, s.Card.Fall = share*from.Card.Spread, share*from.Card.Deviation, response.FallOf(s.Decays, from.Card.Goal)
	s.Robust, s.ExcessDecay = s.Judgement.Spread()+1, response.Lingering(s.Decays, 30, 300)
	return s
}

// fixtureOptions compares the room as it is with one change.
func fixtureOptions(placed *model.Project, from *score.Candidate) *whatif.Comparison {
	state := func(name string, share model.Level, fall float64) whatif.State {
		s := fixtureState(from, share, fall)
		return whatif.State{Name: name, Project: placed, Judgement: s.Judgement, Card: s.Card, Decay: s.Decays}
	}
	return &whatif.Comparison{
		Engine: model.EngineInfo{Kind: model.WaveEngine, Cell: 0.1, Errors: []model.ErrorClaim{{Frequency: 120, Error: 0.2}, {Frequency: 300, Error: 1}}},
		Goal:   placed.Goal, Grid: reporttest.CoarseGrid(), Now: state("", 1, 0.12), States: []whatif.State{state("rear layer doubled", 0.7, 0.08)},
	}
}
