package stage

import (
	"cmp"
	"context"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// State says what the room does with some pieces built and the pair and the main seat in one
// layout.
type State struct {
	Layout      model.Layout // of all that is planned with, the best for these pieces
	Engine      model.EngineInfo
	Judgement   response.Judgement // of the main seat, as all below but Seats
	Card        response.Ranged
	Robust      model.Level           // spread, averaged over small displacements of each speaker
	Seats       []score.SeatFigures   // of all seats, each exactly at its mark; nil if there is only one
	Between     model.Level           // how much the seats differ, see [response.Reader.Between]; 0 of a state that is not shown
	Decays      []response.Decay      // of both speakers together
	ExcessDecay float64               // see response.Lingering, s
	Fading      *spectraldecay.Signal // of both speakers together: how long each tone stays; nil of a state that is not shown

	DecayWeight float64 // dB per second; 0 is the default, see [model.Goal]
}

// Score is the figure by which pieces are chosen, dB; less is better. To the robust spread,
// weighted over all seats, it adds DecayWeight times the sum of the mean time to fall by 20 dB and
// the excess decay.
func (h *State) Score() float64 { return h.spread() + h.decayWeight()*h.lasting() }

// lasting is the sum of the mean time to fall by 20 dB and the excess decay, s.
func (h *State) lasting() float64 { return h.Card.Fall.Mean + h.ExcessDecay }

func (h *State) decayWeight() float64 { return cmp.Or(h.DecayWeight, model.DefaultDecayWeight) }

// spread returns the robust spread of the main seat with those of the others by their weights.
func (h *State) spread() float64 {
	if len(h.Seats) == 0 {
		return float64(h.Robust)
	}
	var sum float64
	for _, f := range h.Seats {
		sum += f.Weight * float64(f.Counted)
	}
	return sum
}

// Solver returns an engine for a project's room as it is treated, over the grid, that
// answers for the given blocks of places.
type Solver func(p *model.Project, grid model.Grid, places []model.Block, a Accuracy) (model.Engine, error)

// Accuracy says how exact an engine has to be.
type Accuracy int

// The accuracies, the best first.
const (
	Shown    Accuracy = iota // for figures that are shown
	Ranked                   // for pieces that compete: it may be wrong by a few tenths of a decibel
	Screened                 // for what decides only what is tried first
)

// evaluator computes states of a project's room.
type evaluator struct {
	grid  model.Grid // of levels
	both  score.BothGrids
	solve Solver
	shift float64 // m
}

func newEvaluator(grid model.Grid, solve Solver) *evaluator {
	return &evaluator{both: score.NewBothGrids(grid), grid: grid, solve: solve, shift: score.Displacement}
}

// engine returns an engine for a project's room that answers for places about the pair of a layout.
func (e *evaluator) engine(p *model.Project, l model.Layout, a Accuracy) (model.Engine, error) {
	about := func(v r3.Vec) model.Block {
		d := r3.Vec{X: e.shift, Y: e.shift}
		return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)}
	}
	return e.solve(p, e.both.Grid, []model.Block{about(l.Left), about(l.Right)}, a)
}

// state returns the state of a project's room in a layout. It takes one field for each seat.
func (e *evaluator) state(ctx context.Context, p *model.Project, l model.Layout, a Accuracy) (*State, error) {
	engine, err := e.engine(p, l, a)
	if err != nil {
		return nil, err
	}
	field, err := engine.Field(ctx, l.Seat)
	if err != nil {
		return nil, err
	}
	reader := response.NewSpeakerReader(e.grid, engine.Air(), p.Goal, p.Speakers.RollOff())
	s := score.Scorer{Shift: e.shift, Size: p.Room.Size}
	var left, right [5][]complex128
	for i, v := range s.Displaced(l.Left) {
		left[i] = field.Transfer(nil, v)
	}
	for i, v := range s.Displaced(l.Right) {
		right[i] = field.Transfer(nil, v)
	}
	levels := func(i, j int) response.Pair { return e.levels(left[i], right[j]) }
	h := &State{Layout: l, Engine: engine.Info(), Judgement: reader.Judge(levels(0, 0)), DecayWeight: p.Goal.Decay()}
	var scratch response.Scratch
	sum := h.Judgement.Spread()
	for j := 1; j < 5; j++ {
		sum += reader.Spread(levels(j, 0), &scratch) + reader.Spread(levels(0, j), &scratch)
	}
	if h.Robust, err = score.Finite(sum/9, l); err != nil {
		return nil, err
	}
	h.Card.Card = reader.Card(levels(0, 0), e.both.Decay.Read(score.Pick(left[0], e.both.Decays), score.Pick(right[0], e.both.Decays)))
	both := response.Pair{Left: score.Pick(left[0], e.both.Decays), Right: score.Pick(right[0], e.both.Decays)}
	h.Decays = e.both.Decay.Read(both.Of(response.BothTogether))
	h.ExcessDecay = response.Lingering(h.Decays, p.Goal.From, p.Goal.To)
	if a == Shown {
		tones := both.Through(p.Speakers.RollOff(), response.DecayGrid()).Of(response.BothTogether)
		if h.Fading, err = spectraldecay.Transfer(response.DecayGrid(), tones, engine.Air()); err != nil {
			return nil, err
		}
	}
	return h, e.addSeats(ctx, h, p, engine, reader, a)
}

func (e *evaluator) levels(left, right []complex128) response.Pair {
	return response.Pair{Left: score.Pick(left, e.both.Levels), Right: score.Pick(right, e.both.Levels)}
}

// addSeats adds what the seats get, if there are several.
func (e *evaluator) addSeats(ctx context.Context, h *State, p *model.Project, engine model.Engine, reader *response.Reader, a Accuracy) error {
	others := score.OtherSeats(p)
	if len(others) == 0 {
		return nil
	}
	share := score.SeatWeights(p)
	h.Seats = []score.SeatFigures{{
		Name: score.SeatName(p.Seats[0], 0), At: h.Layout.Seat, Weight: share[0], Spread: h.Judgement.Spread(), Counted: h.Robust,
	}}
	curves := [][]model.Level{h.Judgement.Curves[response.BothTogether]}
	for i, seat := range others {
		f := score.SeatFigures{Name: score.SeatName(seat, i+1), At: score.SeatPlace(p, i+1, h.Layout), Weight: share[i+1]}
		if f.Weight == 0 && a != Shown {
			continue
		}
		field, err := engine.Field(ctx, f.At)
		if err != nil {
			return err
		}
		pair := e.levels(field.Transfer(nil, h.Layout.Left), field.Transfer(nil, h.Layout.Right))
		at := h.Layout
		at.Seat = f.At
		if f.Spread, err = score.Finite(reader.Spread(pair, new(response.Scratch)), at); err != nil {
			return err
		}
		f.Counted = f.Spread
		h.Seats = append(h.Seats, f)
		if a == Shown {
			curves = append(curves, reader.Smooth(pair.Of(response.BothTogether)))
		}
	}
	if a == Shown {
		h.Between = reader.Between(curves)
	}
	return nil
}
