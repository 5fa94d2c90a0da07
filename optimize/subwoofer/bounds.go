package subwoofer

import (
	"context"
	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// SetBounds sets the bounds of every seat of every plan: the plain spread with walls that
// absorb as little and as much as they may, with the subwoofers where they are and set as
// they are. The engines are those of [optimize.AtEnds]; typical may be nil, and coarser than that of
// the plans.
func SetBounds(ctx context.Context, p *model.Project, typical, hard, soft model.Engine, r *Result) error {
	plans := r.All()
	found, err := score.AtEnds(typical, hard, soft, len(plans[0].Seats), func(e model.Engine, seat int) ([]response.Card, error) {
		return heldCards(ctx, p, e, r.Layout, plans, seat)
	})
	if err != nil {
		return err
	}
	for n, plan := range plans {
		for i := range plan.Seats {
			s := &plan.Seats[i]
			s.Walls = found.Bounds(i, s.Judgement.Spread(), func(plans []response.Card) model.Level { return plans[n].Spread })
			shown := make([]response.Card, len(plans))
			shown[n] = s.Card.Card
			s.Card.Ends = nil
			for _, end := range found.Read(i, shown) {
				s.Card.Ends = append(s.Card.Ends, end[n])
			}
		}
	}
	return nil
}

// All returns the plans, with that of the present subwoofers last.
func (r *Result) All() []*Plan {
	var list []*Plan
	for i := range r.Plans {
		list = append(list, &r.Plans[i])
	}
	if r.Now != nil {
		list = append(list, r.Now)
	}
	return list
}

// heldCards returns the card of each plan at one seat in another room.
func heldCards(ctx context.Context, p *model.Project, e model.Engine, l model.Layout, plans []*Plan, seat int) ([]response.Card, error) {
	field, err := e.Field(ctx, plans[0].Seats[seat].At)
	if err != nil {
		return nil, err
	}
	room := &tables{project: p, sub: p.Subwoofers, layout: l}
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	var list []response.Card
	for _, plan := range plans {
		list = append(list, reader.Card(room.evaluate(field, e.Grid(), plan.Units).Pair, nil))
	}
	return list, nil
}

// Range returns the lowest and the highest plain spread at a seat over the uncertainty of
// the walls, typical walls included.
func (s *Seat) Range() (low, high model.Level) {
	c := score.Candidate{Judgement: s.Judgement, Walls: s.Walls}
	return c.Range()
}

// BetterThroughout reports whether one plan beats another at the main seat with hard,
// typical and soft walls alike.
func BetterThroughout(better, worse *Plan) bool {
	a, b := &better.Seats[0], &worse.Seats[0]
	return score.BetterThroughout(&score.Candidate{Judgement: a.Judgement, Walls: a.Walls}, &score.Candidate{Judgement: b.Judgement, Walls: b.Walls})
}
