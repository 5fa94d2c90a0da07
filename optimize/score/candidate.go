package score

import (
	"evenbass/model"
	"evenbass/model/response"
)

// Candidate is one layout with all its figures.
type Candidate struct {
	Layout model.Layout

	// Robust is what the search minimises, made from Steadiness: the worst channel's spread over
	// small displacements of each speaker and leans of the listener. Judgement holds the plain
	// figures, with everything exactly in place.
	Robust     model.Level
	Steadiness Steadiness
	Judgement  response.Judgement
	Card       response.Ranged  // of the main seat; decays and ranges where they were computed
	Decays     []response.Decay // likewise; of left and right alone, energies summed
	Pair       response.Pair    // transfers over the engine's grid, Pa·s/m³

	OverDecays response.Pair // likewise, over [response.DecayGrid], empty if decays were not computed

	// Score orders the candidates: Robust if only the main seat counts, else the weighted
	// sum of what counts at each of Seats. Seats is nil if there is only one seat. Between
	// is how much the seats differ, see [response.Reader.Between].
	Score   model.Level
	Seats   []SeatFigures
	Between model.Level

	Tolerance Tolerance
	Walls     Bounds         // with hard and with soft walls
	Breaches  []model.Breach // of the present layout only
}

// Tolerance is how far each mark may be off on plan, in m, before the spread grows by 1 dB.
// A value at Limit means "at least that far".
type Tolerance struct {
	Left, Right, Seat float64
	Limit             float64
}
