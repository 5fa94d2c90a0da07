package stage

import (
	"evenbass/model"
	"evenbass/optimize"
)

// Settings controls the planning of stages. The zero value is a good choice.
type Settings struct {
	Batts     []int   // in hand, by sort in the stock; nil uses the stock
	LeastGain float64 // least gain in score for a stage, dB; 0 is [LeastGain]
	Tries     int     // most pieces tried for each stage after the first round; 0 is 8
	Swaps     int     // most exchanges tried; 0 is 32

	Progress model.Progress // receives how many pieces have been tried, of an estimate
}

// LeastGain is the least gain in score, in dB, for which a stage is worth the work. Our own
// choice.
const LeastGain = 0.3

func (s Settings) withDefaults(stock *model.Stock) Settings {
	if s.Batts == nil {
		for _, b := range stock.Batts {
			s.Batts = append(s.Batts, b.Have)
		}
	}
	s.LeastGain = optimize.Or(s.LeastGain, LeastGain)
	s.Tries = optimize.Or(s.Tries, 8)
	s.Swaps = optimize.Or(s.Swaps, 32)
	return s
}

// Stage is one step of a plan: a piece that is built, and the state of the room after it.
type Stage struct {
	Piece
	After *State
	Gain  float64 // in score over the stage before, dB
}

// Extension is more pieces on top of a plan, whether or not each gains enough.
type Extension struct {
	Pieces []Piece
	Batts  int
	After  *State
}

// Alone is a piece with its gain in score on its own, and that of the plan's first piece, dB;
// rough.
type Alone struct {
	Piece
	Gain, First float64
}

// Omission is a piece that is not built, and what it would gain on top of the plan.
type Omission struct {
	Piece
	Gain float64 // in score, dB; rough, see [Solver]
}

// Plan says which pieces to build from a stock, in which order.
type Plan struct {
	Goal   model.Goal
	Grid   model.Grid   // of the curves
	Layout model.Layout // at the end
	Batts  []int        // available, by sort
	Now    *State       // as things stand
	Start  *State       // before anything is built, with pair and seat where they then do best
	Stages []Stage

	Other *Plan // what was planned beside it and ends less well, see [Plan.Moves]: its Now, Start and Stages; else nil

	Rest    *Extension // what the remaining batts would gain; nil if they make no piece
	Corners *Alone     // the corner fill that alone gains most per batt, where another piece comes first; else nil

	Omitted   []Omission // the best of each kind that is not built, on top of the plan; worst first
	Possible  int        // pieces that could be built at all
	Tried     int        // rooms computed
	Reason    Reason     // why it ends here
	LeastGain float64    // least gain of a stage in score, dB

	Rule *FixedOrder // nil if nothing could be built
}

// Reason says why a plan ends.
type Reason int

// The reasons. The zero value is "the plan has not ended".
const (
	_              Reason = iota
	NoPieceGains          // no piece gains enough
	NoPieceFits           // too few batts for any piece
	NoFurtherGains        // no other piece gains enough
	NoFurtherFits         // too few batts left for any other piece
	StoppedEarly          // the context ended
)

// Moves reports whether the plan puts pair or seat elsewhere. [Plan.Other] moves where the plan stays, or
// stays where the plan moves.
func (p *Plan) Moves() bool {
	return p.Now != nil && (p.Start != p.Now || p.Layout != p.Now.Layout)
}

// Left returns how many batts of a sort the plan leaves.
func (p *Plan) Left(batt int) int {
	left := p.Batts[batt]
	for _, s := range p.Stages {
		if s.Batt == batt {
			left -= s.Batts
		}
	}
	return left
}

// Used returns how many batts of all sorts the first n stages take.
func (p *Plan) Used(n int) int {
	used := 0
	for _, s := range p.Stages[:n] {
		used += s.Batts
	}
	return used
}

// End is the state of the room after the last stage.
func (p *Plan) End() *State {
	if len(p.Stages) == 0 {
		return p.Start
	}
	return p.Stages[len(p.Stages)-1].After
}
