package stage

import (
	"context"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// State says what the room does at the main seat with some pieces built and the pair where
// it is.
type State struct {
	Engine      model.EngineInfo
	Judgement   response.Judgement
	Card        response.Ranged
	Robust      model.Level           // spread, averaged over small displacements of each speaker
	Decays      []response.Decay      // of both speakers together
	ExcessDecay float64               // see response.Lingering, s
	Fading      *spectraldecay.Signal // of both speakers together: how long each tone stays; nil of a rough state
}

// DecayWeight is how many dB of spread one second of audible excess decay counts for. Our
// own choice, no source: 0.1 s of decay for 1 dB of spread.
const DecayWeight = 10.0

// Score is what pieces are chosen by, dB: the robust spread, and [DecayWeight] times the
// excess decay. Less is better.
func (h *State) Score() float64 { return float64(h.Robust) + DecayWeight*h.ExcessDecay }

// Solver returns an engine for a project's room as it is treated, over the grid, that
// answers for the given blocks of places. A rough one may be wrong by a few tenths of a
// decibel and serves comparisons only.
type Solver func(p *model.Project, grid model.Grid, places []model.Block, rough bool) (model.Engine, error)

// evaluator computes states of a project's room.
type evaluator struct {
	grid   model.Grid // of levels
	both   score.BothGrids
	solve  Solver
	layout model.Layout
	shift  float64 // m
}

func newEvaluator(grid model.Grid, solve Solver, l model.Layout) *evaluator {
	return &evaluator{both: score.NewBothGrids(grid), grid: grid, solve: solve, layout: l, shift: 0.05}
}

// state returns the state of a project's room. It takes one field.
func (e *evaluator) state(ctx context.Context, p *model.Project, rough bool) (*State, error) {
	about := func(v r3.Vec) model.Block {
		d := r3.Vec{X: e.shift, Y: e.shift}
		return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)}
	}
	engine, err := e.solve(p, e.both.Grid, []model.Block{about(e.layout.Left), about(e.layout.Right)}, rough)
	if err != nil {
		return nil, err
	}
	field, err := engine.Field(ctx, e.layout.Seat)
	if err != nil {
		return nil, err
	}
	reader := response.NewSpeakerReader(e.grid, engine.Air(), p.Goal, p.Speakers.RollOff())
	s := score.Scorer{Shift: e.shift, Size: p.Room.Size}
	var left, right [5][]complex128
	for i, v := range s.Displaced(e.layout.Left) {
		left[i] = field.Transfer(nil, v)
	}
	for i, v := range s.Displaced(e.layout.Right) {
		right[i] = field.Transfer(nil, v)
	}
	levels := func(i, j int) response.Pair {
		return response.Pair{Left: score.Pick(left[i], e.both.Levels), Right: score.Pick(right[j], e.both.Levels)}
	}
	h := &State{Engine: engine.Info(), Judgement: reader.Judge(levels(0, 0))}
	var scratch response.Scratch
	sum := h.Judgement.Spread()
	for j := 1; j < 5; j++ {
		sum += reader.Spread(levels(j, 0), &scratch) + reader.Spread(levels(0, j), &scratch)
	}
	if h.Robust, err = score.Finite(sum/9, e.layout); err != nil {
		return nil, err
	}
	h.Card.Card = reader.Card(levels(0, 0), e.both.Decay.Read(score.Pick(left[0], e.both.Decays), score.Pick(right[0], e.both.Decays)))
	both := response.Pair{Left: score.Pick(left[0], e.both.Decays), Right: score.Pick(right[0], e.both.Decays)}
	h.Decays = e.both.Decay.Read(both.Of(response.BothTogether))
	h.ExcessDecay = response.Lingering(h.Decays, p.Goal.From, p.Goal.To)
	if !rough {
		tones := both.Through(p.Speakers.RollOff(), response.DecayGrid()).Of(response.BothTogether)
		h.Fading, err = spectraldecay.Transfer(response.DecayGrid(), tones, engine.Air())
	}
	return h, err
}
