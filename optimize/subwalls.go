package optimize

import (
	"evenbass/model"
	"evenbass/model/response"
)

// SetBounds sets the bounds of every seat of every plan: the plain spread with walls that
// absorb as little and as much as they may, with the subwoofers where they are and set as
// they are. The engines are those of [uncertainty.SetBounds]; typical may be nil, and coarser than that of
// the plans.
func WidenSubs(p *model.Project, typical, hard, soft model.Engine, r *SubResult) error {
	plans := r.all()
	found, err := atEnds(typical, hard, soft, len(plans[0].Seats), func(e model.Engine, seat int) ([]model.Level, error) {
		return heldSpreads(p, e, r.Layout, plans, seat)
	})
	if err != nil {
		return err
	}
	for n, plan := range plans {
		for i := range plan.Seats {
			s := &plan.Seats[i]
			s.Walls = found.bounds(i, s.Judgement.Spread(), func(plans []model.Level) model.Level { return plans[n] })
		}
	}
	return nil
}

// all returns the plans, with that of the present subwoofers last.
func (r *SubResult) all() []*SubPlan {
	var list []*SubPlan
	for i := range r.Plans {
		list = append(list, &r.Plans[i])
	}
	if r.Now != nil {
		list = append(list, r.Now)
	}
	return list
}

// heldSpreads returns the plain spread of each plan at one seat in another room.
func heldSpreads(p *model.Project, e model.Engine, l model.Layout, plans []*SubPlan, seat int) ([]model.Level, error) {
	field, err := e.Field(plans[0].Seats[seat].At)
	if err != nil {
		return nil, err
	}
	room := &roomTables{project: p, sub: p.Subwoofers, layout: l}
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	var list []model.Level
	for _, plan := range plans {
		list = append(list, reader.Judge(room.evaluate(field, e.Grid(), plan.Subs).Pair).Spread())
	}
	return list, nil
}

// Range returns the lowest and the highest plain spread at a seat over the uncertainty of
// the walls, typical walls included.
func (s *SubSeat) Range() (low, high model.Level) {
	c := Candidate{Judgement: s.Judgement, Walls: s.Walls}
	return c.Range()
}

// BetterThroughout reports whether one plan beats another at the main seat with hard,
// typical and soft walls alike.
func FirmSubs(better, worse *SubPlan) bool {
	a, b := &better.Seats[0], &worse.Seats[0]
	return Firm(&Candidate{Judgement: a.Judgement, Walls: a.Walls}, &Candidate{Judgement: b.Judgement, Walls: b.Walls})
}
