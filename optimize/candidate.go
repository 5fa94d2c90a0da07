package optimize

import (
	"evenbass/model"
	"evenbass/model/response"
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

// Tolerance is how far each mark may be off on plan, in m, before the spread
// grows by 1 dB. A value at Limit says "at least that far".
type Tolerance struct {
	Left, Right, Seat float64
	Limit             float64
}
