package score

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"

	"gonum.org/v1/gonum/spatial/r3"
)

// Solvers are the rooms from which cards and their ranges are read: the one of the figures shown;
// and one with typical, one with hard and one with soft walls, all three of one kind, which may
// be coarser. Typical may be nil where the figures shown come from that kind too.
type Solvers struct {
	Shown, Typical, Hard, Soft *Solver

	// Kept, if set, returns a layout's transfers over [response.DecayGrid] if the engine of the figures shown
	// has them already. Where Typical is given, Shown is not asked for such a layout.
	Kept func(model.Layout) (response.Pair, bool)
}

// decays returns what is read off transfers over [response.DecayGrid] alone.
func decays(b *BothGrids, p *model.Project, pair response.Pair) Reading {
	r := Reading{OverDecays: pair, Decays: b.Decay.Read(pair.Left, pair.Right)}
	r.Card.Fall = response.FallOf(r.Decays, p.Goal)
	return r
}

// SetCards adds to candidates their decays, their cards with typical, hard and soft walls, and the
// bounds of their spread: the spread shown plus what hard and soft walls change of it. Least is
// what the engine of the figures can tell at best. It fails if an engine refuses a place.
func SetCards(ctx context.Context, p *model.Project, s Solvers, least response.Resolution, candidates ...*Candidate) error {
	rooms := []*Solver{s.Shown, s.Hard, s.Soft}
	if s.Typical != nil {
		rooms = append(rooms, s.Typical)
	}
	n := len(candidates)
	found := make([]Reading, len(rooms)*n)
	err := concurrent.Each(len(found), func(i int) (err error) {
		room := rooms[i/n]
		if room == s.Shown && s.Typical != nil && s.Kept != nil {
			if pair, ok := s.Kept(candidates[i%n].Layout); ok {
				found[i] = decays(&room.BothGrids, p, pair)
				return nil
			}
		}
		found[i], err = room.Read(ctx, room.Engine, p, candidates[i%n].Layout)
		return err
	})
	if err != nil {
		return err
	}
	for i, c := range candidates {
		shown, hard, soft, typical := found[i], found[n+i].Card, found[2*n+i].Card, found[len(found)-n+i].Card
		if s.Typical == nil {
			typical = shown.Card
		}
		c.Decays, c.OverDecays, c.Card.Fall, c.Card.Least = shown.Decays, shown.OverDecays, shown.Card.Fall, least
		c.Card.Ends = []response.Card{typical, hard, soft}
		off := c.Judgement.Spread() - typical.Spread
		c.Walls = newBounds(hard.Spread, soft.Spread, off)
	}
	return nil
}

// Solver is an engine over the frequencies of levels and of decays.
type Solver struct {
	model.Engine
	BothGrids
}

// OnlyLevels returns an engine of the same kind over the frequencies of levels alone.
func (s *Solver) OnlyLevels(e model.Engine) model.Engine { return levels{e, s} }

// levels is an engine over part of its frequencies.
type levels struct {
	model.Engine
	solver *Solver
}

// Grid implements [model.Engine].
func (l levels) Grid() model.Grid { return l.solver.LevelGrid }

// Field implements [model.Engine].
func (l levels) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	f, err := l.Engine.Field(ctx, seat)
	return levelsField{f, l.solver}, err
}

type levelsField struct {
	whole  model.Field
	solver *Solver
}

// Transfer implements [model.Field].
func (f levelsField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, len(f.solver.LevelGrid))
	copy(dst, Pick(f.whole.Transfer(nil, source), f.solver.Levels))
	return dst
}
