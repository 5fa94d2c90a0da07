package optimize

import (
	"evenbass/model"
	"evenbass/model/response"
)

// Result is the outcome of a search for places.
type Result struct {
	Engine      string // the engine's name
	Why         string // why that one was chosen, one clause for the reader; Place leaves it empty
	Goal        model.Goal
	Now         *Candidate   // as things stand; nil if nothing stands yet
	Candidates  []Candidate  // different layouts, the best first
	Steps       []Step       // from Now to the first of them, see [Steps]
	Front       []FrontPoint // main seat against the others, the best for the main seat first; nil if it alone counts
	Facings     []Facing     // see [Facings]; Place leaves it nil
	Standing    *Standing    // see [Stay]; Place leaves it nil
	Evaluations int          // layouts whose score was computed
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

	// CutShort is for callers that compute more once Place is done, and were stopped then.
	CutShort Reason = "stopped by hand after the search"
)

// Candidate is one layout with all that is read off it.
type Candidate struct {
	Layout model.Layout

	// Robust is what the search minimises: the worst channel's spread averaged
	// over small displacements of each speaker and of the head. Judgement holds
	// the plain figures, with everything exactly in place.
	Robust    model.Level
	Judgement response.Judgement
	Pair      response.Pair // transfers over the engine's grid, Pa·s/m³

	// Score is what the candidates are ordered by: Robust if only the main seat
	// counts, else the weighted sum of what counts at each of Seats. Seats is nil if
	// there is one seat only; Between is how much the seats differ, see
	// [response.Reader.Between].
	Score   model.Level
	Seats   []SeatFigures
	Between model.Level

	Tolerance Tolerance
	Walls     Bounds         // see Widen
	Breaches  []model.Breach // only of the layout as it stands now
}

// Shown returns what stands now, if anything does, and the candidates in their order.
func (r *Result) Shown() []*Candidate {
	var all []*Candidate
	if r.Now != nil {
		all = append(all, r.Now)
	}
	for i := range r.Candidates {
		all = append(all, &r.Candidates[i])
	}
	return all
}

// Tolerance is how far each mark may be off on plan, in m, before the spread
// grows by 1 dB. A value at Limit says "at least that far".
type Tolerance struct {
	Left, Right, Seat float64
	Limit             float64
}
