package optimize

import (
	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// Result is the outcome of a search for places.
type Result struct {
	Engine      model.EngineInfo
	Why         string // why it was chosen, one clause for the reader; Place leaves it empty
	Goal        model.Goal
	Now         *score.Candidate  // the present layout; nil if there is none
	Candidates  []score.Candidate // different layouts, the best first
	Steps       []Step            // from Now to the best layout, see [Steps]
	Front       []FrontPoint      // trade-off between the main seat and the others, the best for the main seat first; nil if it alone counts
	Facings     []Facing          // see [Facings]; Place leaves it nil
	Evaluations int               // layouts scored
	Seed        int64
	Stopped     search.Reason
	Warnings    []model.Warning
}

// Shown returns the present layout, if there is one, and the candidates in order.
func (r *Result) Shown() []*score.Candidate {
	var all []*score.Candidate
	if r.Now != nil {
		all = append(all, r.Now)
	}
	for i := range r.Candidates {
		all = append(all, &r.Candidates[i])
	}
	return all
}
