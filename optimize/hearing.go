package optimize

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// Hearing is what is heard at the main seat of a room as it is treated, the pair where it
// stands.
type Hearing struct {
	Judgement response.Judgement
	Steady    model.Level      // spread, averaged over small displacements of either speaker
	Decays    []response.Decay // of both speakers together
	Lingering float64          // see response.Lingering, s
}

// Weight is how many dB of spread a second counts for by which sound outlasts what the ear
// can tell. Our own choice, no source: 0.1 s of decay for 1 dB of spread.
const Weight = 10.0

// Score is what treatments are chosen by, dB: the steady spread, and [Weight] times the
// lingering. Less is better.
func (h *Hearing) Score() float64 { return float64(h.Steady) + Weight*h.Lingering }

// ScoreRecipe says in one sentence what a score is.
func ScoreRecipe(goal model.Goal) string {
	return fmt.Sprintf("score = spread (%v, mean over both speakers 5 cm off) + %.0f dB for each second by which the third octaves outlast what the ear can tell (0.85 s at 32 Hz to 0.2 s from 100 Hz)", goal, Weight)
}

// StageSolver returns an engine for a project's room as it is treated, over the grid, that
// answers for the given blocks of places. A rough one may be wrong by a few tenths of a
// decibel and only compares.
type StageSolver func(ctx context.Context, p *model.Project, grid model.Grid, places []model.Block, rough bool) (model.Engine, error)

// ear listens to a project's room.
type ear struct {
	both   bothGrids
	solve  StageSolver
	layout model.Layout
	shift  float64 // m
}

func newEar(solve StageSolver, l model.Layout) *ear {
	return &ear{both: newBothGrids(model.DefaultGrid()), solve: solve, layout: l, shift: 0.05}
}

// hear returns what is heard in a project's room. It takes one field.
func (e *ear) hear(ctx context.Context, p *model.Project, rough bool) (*Hearing, error) {
	about := func(v r3.Vec) model.Block {
		d := r3.Vec{X: e.shift, Y: e.shift}
		return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)}
	}
	engine, err := e.solve(ctx, p, e.both.grid, []model.Block{about(e.layout.Left), about(e.layout.Right)}, rough)
	if err != nil {
		return nil, err
	}
	field, err := engine.Field(e.layout.Seat)
	if err != nil {
		return nil, err
	}
	reader := response.NewReader(model.DefaultGrid(), engine.Air(), p.Goal)
	s := scorer{shift: e.shift, size: p.Room.Size}
	var left, right [5][]complex128
	for i, v := range s.around(e.layout.Left) {
		left[i] = field.Transfer(nil, v)
	}
	for i, v := range s.around(e.layout.Right) {
		right[i] = field.Transfer(nil, v)
	}
	levels := func(i, j int) response.Pair {
		return response.Pair{Left: pick(left[i], e.both.levels), Right: pick(right[j], e.both.levels)}
	}
	h := &Hearing{Judgement: reader.Judge(levels(0, 0))}
	var scratch response.Scratch
	sum := h.Judgement.Spread()
	for j := 1; j < 5; j++ {
		sum += reader.Spread(levels(j, 0), &scratch) + reader.Spread(levels(0, j), &scratch)
	}
	if h.Steady, err = checked(sum/9, e.layout); err != nil {
		return nil, err
	}
	both := response.Pair{Left: pick(left[0], e.both.decays), Right: pick(right[0], e.both.decays)}
	h.Decays = e.both.decay.Read(both.Of(response.BothTogether))
	h.Lingering = response.Lingering(h.Decays, p.Goal.From, p.Goal.To)
	return h, nil
}
