package optimize

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/response"
	"evenbass/optimize/score"
)

// Order returns the candidates of a result in the order in which they should be offered, as their numbers
// from 0. Layouts that even out the bass and leave no more of the band uneven than now come before those that
// shrink the spread alone. Among these it goes by the score. Where scores differ by less than the prediction
// can tell, the layout comes first that does best in bad luck, then the one with the larger tolerance, the
// smaller standard deviation, the better other seats, the smaller difference of left and right, and finally
// the one that needs the least moving. Each of these decides only where the difference is larger than the
// prediction resolves. No layout comes after one that it beats in every figure of the card.
func (r *Result) Order() []int {
	var order []int
	left := make([]int, len(r.Candidates))
	for i := range left {
		left[i] = i
	}
	for len(left) > 0 {
		next := r.offer(left)
		order = append(order, next)
		left = slices.DeleteFunc(left, func(i int) bool { return i == next })
	}
	return order
}

// offer returns which of some candidates to offer first.
func (r *Result) offer(among []int) int {
	tied := r.evenOnes(among)
	for _, d := range r.deciders() {
		fault := func(i int) float64 { return d.fault(&r.Candidates[i]) }
		lead := slices.MinFunc(tied, func(i, j int) int { return cmp.Compare(fault(i), fault(j)) })
		tied = slices.DeleteFunc(tied, func(i int) bool { return d.favours(&r.Candidates[lead], &r.Candidates[i]) })
	}
	winner := slices.MinFunc(tied, func(i, j int) int { return cmp.Compare(r.Candidates[i].Score, r.Candidates[j].Score) })
	for changed := true; changed; {
		changed = false
		for _, i := range among {
			if r.beats(&r.Candidates[i], &r.Candidates[winner]) {
				winner, changed = i, true
			}
		}
	}
	return winner
}

// evenOnes returns those of some candidates that are even; all if there are none.
func (r *Result) evenOnes(among []int) []int {
	list := slices.DeleteFunc(slices.Clone(among), func(i int) bool { return !r.even(&r.Candidates[i]) })
	if len(list) == 0 {
		return slices.Clone(among)
	}
	return list
}

// even reports whether the spread of a candidate is better than now, and whether its standard deviation and
// share of the band within bounds are not worse.
func (r *Result) even(c *score.Candidate) bool {
	if r.Now == nil {
		return true
	}
	changes := c.Card.Compare(&r.Now.Card)
	return changes[response.SpreadFigure].Mark == response.Better && !changes.LessEven()
}

// DropWorse drops the layouts after the first that are worse than now in the spread at the main seat, unless
// other seats count and the score is better: an owner does not move things to make them worse.
func (r *Result) DropWorse() {
	if r.Now == nil || len(r.Candidates) == 0 {
		return
	}
	first := r.Candidates[:1:1]
	rest := slices.DeleteFunc(slices.Clone(r.Candidates[1:]), func(c score.Candidate) bool {
		return (c.Score > r.Now.Score || len(c.Seats) == 0) && c.Card.Compare(&r.Now.Card)[response.SpreadFigure].Mark == response.Worse
	})
	r.Candidates = append(first, rest...)
}

// Advantage is what decides that one layout is offered before another.
type Advantage int

// The advantages, in the order in which they decide. The zero value is none.
const (
	_             Advantage = iota
	MoreEven                // leaves no more of the band uneven than now
	LowerScore              // dB
	BetterLuck              // less spread in bad luck, dB
	WiderMarks              // the most sensitive mark may be off further, m
	LessDeviation           // dB
	BetterSeats             // less spread at the seats beside the main one, dB
	CloserPair              // left and right differ less, dB
	LessMoving              // m, over both speakers and the seat
)

// Precedence says why one layout is offered before another.
type Precedence struct {
	Advantage
	First, Other float64 // the figure that decides, of either, in the unit of the advantage
}

// Precedence returns the first of the advantages of candidate i over candidate j that is larger than the
// prediction resolves. Without one it is the lower score or, failing that, the zero value.
func (r *Result) Precedence(i, j int) Precedence {
	first, other := &r.Candidates[i], &r.Candidates[j]
	if r.even(first) && !r.even(other) {
		return Precedence{Advantage: MoreEven}
	}
	deciders := r.deciders()
	for _, d := range deciders {
		if d.favours(first, other) {
			return Precedence{d.gives, math.Abs(d.fault(first)), math.Abs(d.fault(other))}
		}
	}
	if first.Score < other.Score {
		return Precedence{LowerScore, float64(first.Score), float64(other.Score)}
	}
	return Precedence{}
}

// decider is a figure that decides between layouts: a larger value is worse, and a difference up to least
// counts as none.
type decider struct {
	gives Advantage
	fault func(*score.Candidate) float64
	least func(response.Resolution) float64
}

// favours reports whether a layout does better than another by more than counts as none.
func (d *decider) favours(a, b *score.Candidate) bool {
	return d.fault(b)-d.fault(a) > d.least(b.Card.Resolution(&a.Card))
}

func (r *Result) deciders() []decider {
	figure := func(f response.Figure) func(response.Resolution) float64 {
		return func(n response.Resolution) float64 { return n[f] }
	}
	fixed := func(v float64) func(response.Resolution) float64 {
		return func(response.Resolution) float64 { return v }
	}
	return []decider{
		{LowerScore, func(c *score.Candidate) float64 { return float64(c.Score) }, figure(response.SpreadFigure)},
		{BetterLuck, badLuck, fixed(LeastGain)},
		{WiderMarks, func(c *score.Candidate) float64 { return -off(c) }, fixed(tapeError)},
		{LessDeviation, func(c *score.Candidate) float64 { return float64(c.Card.Deviation) }, figure(response.DeviationFigure)},
		{BetterSeats, others, figure(response.SpreadFigure)},
		{CloserPair, func(c *score.Candidate) float64 { return float64(c.Judgement.Difference) }, figure(response.DeviationFigure)},
		{LessMoving, r.effort, fixed(0)},
	}
}

// tapeError is how far a mark may be off for the tape's sake, m.
const tapeError = 0.015

// badLuck returns the spread that nine of ten trials stay below or, without trials, the worst of
// typical, hard and soft walls.
func badLuck(c *score.Candidate) float64 {
	var all []float64
	for _, card := range c.Card.Trials {
		all = append(all, float64(card.Spread))
	}
	if len(all) > 0 {
		slices.Sort(all)
		return all[int(math.Ceil(0.9*float64(len(all))))-1]
	}
	_, high := c.Range()
	return float64(high)
}

// off returns how far the most sensitive mark may be off, m.
func off(c *score.Candidate) float64 {
	return min(c.Tolerance.Left, c.Tolerance.Right, c.Tolerance.Seat)
}

// others returns what counts at the seats beside the main one; 0 if there are none.
func others(c *score.Candidate) float64 {
	if len(c.Seats) == 0 || c.Seats[0].Weight >= 1 {
		return 0
	}
	return c.Balance().Rest
}

// effort returns how far things have to be moved from where they are, m; 0 if they are nowhere.
func (r *Result) effort(c *score.Candidate) float64 {
	if r.Now == nil {
		return 0
	}
	now, l := &r.Now.Layout, &c.Layout
	return r3.Norm(r3.Sub(l.Left, now.Left)) + r3.Norm(r3.Sub(l.Right, now.Right)) + r3.Norm(r3.Sub(l.Seat, now.Seat))
}

// beats reports whether a layout is better than another in every figure of the card, and worse in nothing
// else by more than the prediction resolves. What every figure shows beyond that outweighs the score.
func (r *Result) beats(a, b *score.Candidate) bool {
	exact, resolved := a.Card.Against(b.Card.Card, response.Resolution{}), a.Card.Compare(&b.Card)
	clear := true
	for f := range exact {
		if exact[f].Known && exact[f].Mark != response.Better {
			return false
		}
		clear = clear && (!exact[f].Known || resolved[f].Mark == response.Better)
	}
	return !slices.ContainsFunc(r.deciders(), func(d decider) bool {
		return d.favours(b, a) && d.gives != LessMoving && !(clear && d.gives == LowerScore)
	})
}
