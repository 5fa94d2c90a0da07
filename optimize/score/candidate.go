package score

import (
	"evenbass/model"
	"evenbass/model/concurrent"
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

// Bounds holds a layout's plain spread, dB, with walls that absorb as little and as much as
// is likely. The zero value means "not computed".
type Bounds struct{ Hard, Soft model.Level }

// Given reports whether the bounds have been computed.
func (b Bounds) Given() bool { return b != Bounds{} }

// newBounds returns the bounds of spreads that are off from the figure shown. No spread is below 0.
func newBounds(hard, soft, off model.Level) Bounds {
	return Bounds{Hard: max(0, hard+off), Soft: max(0, soft+off)}
}

// Range returns the lowest and the highest plain spread of a candidate over the likely
// walls. More damping does not always mean less spread, so the spread with typical walls
// counts too.
func (c *Candidate) Range() (low, high model.Level) {
	s := c.Judgement.Spread()
	if !c.Walls.Given() {
		return s, s
	}
	return min(s, c.Walls.Hard, c.Walls.Soft), max(s, c.Walls.Hard, c.Walls.Soft)
}

// BetterThroughout reports whether one candidate beats another with hard, typical and soft
// walls alike, so that the unknown walls do not change the choice.
func BetterThroughout(better, worse *Candidate) bool {
	return better.Walls.Given() && worse.Walls.Given() &&
		better.Walls.Hard < worse.Walls.Hard && better.Walls.Soft < worse.Walls.Soft &&
		better.Judgement.Spread() < worse.Judgement.Spread()
}

// Ends holds n readings in rooms with hard, soft and typical walls. The last is empty where the figures shown
// come from the same engines.
type Ends[T any] struct{ hard, soft, typical []T }

// AtEnds takes n readings by engines with hard, soft and typical walls. The typical engine may be nil.
func AtEnds[T any](typical, hard, soft model.Engine, n int, read func(e model.Engine, i int) (T, error)) (Ends[T], error) {
	engines := []model.Engine{hard, soft}
	if typical != nil {
		engines = append(engines, typical)
	}
	found := make([]T, len(engines)*n)
	err := concurrent.Each(len(found), func(i int) (err error) {
		found[i], err = read(engines[i/n], i%n)
		return err
	})
	return Ends[T]{found[:n], found[n : 2*n], found[2*n:]}, err
}

// Read returns reading i with typical, hard and soft walls. The figure shown serves as the typical one if it
// comes from the same engines.
func (e Ends[T]) Read(i int, shown T) [3]T {
	if len(e.typical) > 0 {
		shown = e.typical[i]
	}
	return [3]T{shown, e.hard[i], e.soft[i]}
}

// Bounds returns the bounds of a spread shown, by that of reading i.
func (e Ends[T]) Bounds(i int, shown model.Level, spread func(T) model.Level) Bounds {
	var off model.Level
	if len(e.typical) > 0 {
		off = shown - spread(e.typical[i])
	}
	return newBounds(spread(e.hard[i]), spread(e.soft[i]), off)
}
