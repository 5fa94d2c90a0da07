package score

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
)

// Solvers are the rooms from which cards and their ranges are read: the one of the figures shown;
// and one with typical, one with hard and one with soft walls, all three of one kind, which may
// be coarser. Typical may be nil where the figures shown come from that kind too.
type Solvers struct{ Shown, Typical, Hard, Soft *Solver }

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
		c.Walls = Bounds{Hard: hard.Spread + off, Soft: soft.Spread + off}
	}
	return nil
}
