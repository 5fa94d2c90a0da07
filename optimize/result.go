package optimize

import (
	"evenbass/model"
	"evenbass/optimize/score"
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
	Stopped     Reason
	Warnings    []model.Warning
}

// Reason says why a search ended.
type Reason string

// The reasons.
const (
	Converged Reason = "no further gain"
	Exhausted Reason = "all generations done"
	Cancelled Reason = "stopped by hand"
	OutOfTime Reason = "time used up"

	// CutShort is for callers that compute more after Place and were stopped then.
	CutShort Reason = "stopped by hand after the search"
)

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
