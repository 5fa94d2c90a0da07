package cause

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/search"

	"gonum.org/v1/gonum/spatial/r3"
)

// Remedy is the best cure found for a dip. The search tries single moves within the rules, up to
// [RemedyReach], and absorption at the walls among its causes. A cure removes at least half of the
// dip, and at least 3 dB.
type Remedy struct {
	Move *Move  // of the moves that cure it, the one that leaves the least spread; nil for none
	Wall *Cause // the boundary without which the dip shrinks most; nil for none

	Narrow bool // the dip is narrower than [NarrowDip]
}

// Move is a single move with its effect.
type Move struct {
	optimize.Step             // the spreads before and after it are plain ones
	Lift          model.Level // how much the dip shrinks, dB
}

// How far moves are tried, and in which steps, m.
const (
	RemedyReach = 0.35
	remedyStep  = 0.05
)

// NarrowDip is the width in octaves below which a dip may be left alone, because hardly any
// note falls into it. Common practice, no source.
const NarrowDip = 1.0 / 6

// Remedies looks for a cure of each dip of a candidate and sets its Remedy. Moves are
// computed by the engine, which must be that of the candidate's figures; walls are those
// among the causes. It fails if the engine refuses a place.
func Remedies(ctx context.Context, p *model.Project, e model.Engine, c *score.Candidate, dips []Dip) error {
	if len(dips) == 0 {
		return nil
	}
	e, err := score.Near(ctx, e, c.Layout)
	if err != nil {
		return err
	}
	s := score.NewScorer(e, p, 0)
	moves := movesOf(p, c.Layout)
	pairs := make([]response.Pair, len(moves))
	err = concurrent.Each(len(moves), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		var err error
		if pairs[i], err = score.PairAt(ctx, e, moves[i].To); err != nil {
			return err
		}
		moves[i].Before = c.Judgement.Spread()
		moves[i].After, err = score.Finite(s.Reader.Spread(pairs[i], new(response.Scratch)), moves[i].To)
		return err
	})
	if err != nil {
		return err
	}
	for i := range dips {
		dips[i].Remedy = remedy(dips[i], moves, s.Reader.Cures(dips[i].Feature, pairs))
	}
	return nil
}

// remedy picks the best cure of one dip; the cures are by the moves.
func remedy(dip Dip, moves []Move, cures []response.Cure) *Remedy {
	r := &Remedy{Narrow: !dip.Feature.Width.Cut && dip.Feature.Width.Octaves < NarrowDip}
	for _, cure := range cures {
		t := moves[cure.Without]
		t.Lift = cure.Gain
		if r.Move == nil || t.After < r.Move.After {
			r.Move = &t
		}
	}
	for i := range dip.Causes {
		if c := &dip.Causes[i]; c.Treatable() && (r.Wall == nil || c.Cure > r.Wall.Cure) {
			r.Wall = c
		}
	}
	return r
}

// movesOf lists single moves of what a project lets move. None of them breaks a rule, or
// breaks one worse than the layout does already. Short moves come first.
func movesOf(p *model.Project, l model.Layout) []Move {
	x, y := r3.Vec{X: 1}, r3.Vec{Y: 1}
	var directions []Move
	if seat := &p.Seats[0]; len(seat.Zones) > 0 || !seat.Placed {
		directions = append(directions, Move{Step: optimize.Step{Parts: []optimize.Part{optimize.SeatAlong}, To: model.Layout{Seat: x}}}, Move{Step: optimize.Step{Parts: []optimize.Part{optimize.SeatAcross}, To: model.Layout{Seat: y}}})
	}
	if !p.Speakers.Fixed {
		directions = append(directions,
			Move{Step: optimize.Step{Parts: []optimize.Part{optimize.SpeakersAlong}, To: model.Layout{Left: x, Right: x}}},
			Move{Step: optimize.Step{Parts: []optimize.Part{optimize.SpeakersAcross}, To: model.Layout{Left: r3.Scale(-1, y), Right: y}}})
	}
	most := p.Violation(l) + 1e-9
	var list []Move
	for n := 1; float64(n)*remedyStep <= RemedyReach+1e-9; n++ {
		for _, w := range directions {
			for _, by := range []float64{-remedyStep, remedyStep} {
				t := w
				t.From, t.To = l, search.Shifted(l, w.To, float64(n)*by)
				if v := p.Violation(t.To); v <= most {
					t.Breaks = v > 0
					list = append(list, t)
				}
			}
		}
	}
	return list
}
