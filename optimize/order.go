package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// Order returns the candidates of a result in the order in which they should be offered, as their numbers
// from 0. Layouts that even out the bass and leave no more of the band uneven than now come before those that
// shrink the spread alone. Among these it goes by the score. Where scores differ by less than the prediction
// can tell, the layout comes first that does best in bad luck, then the one with the larger tolerance, the
// smaller standard deviation, the better other seats, the smaller difference of left and right, and finally
// the one that needs the least moving. Each of these decides only where the difference is larger than the
// prediction resolves. No layout comes after one that it beats in every figure.
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
	sound := r.sound(among)
	best := slices.MinFunc(sound, func(i, j int) int { return compareLevels(r.Candidates[i].Score, r.Candidates[j].Score) })
	top := &r.Candidates[best]
	tied := slices.DeleteFunc(sound, func(i int) bool {
		c := &r.Candidates[i]
		return float64(c.Score-top.Score) > c.Card.Resolution(&top.Card)[response.SpreadFigure]
	})
	for _, decide := range r.deciders() {
		least := math.Inf(1)
		lead := tied[0]
		for _, i := range tied {
			if v := decide.fault(&r.Candidates[i]); v < least {
				least, lead = v, i
			}
		}
		tied = slices.DeleteFunc(tied, func(i int) bool {
			c, l := &r.Candidates[i], &r.Candidates[lead]
			return decide.fault(c)-least > decide.least(c.Card.Resolution(&l.Card))
		})
	}
	winner := slices.MinFunc(tied, func(i, j int) int { return compareLevels(r.Candidates[i].Score, r.Candidates[j].Score) })
	for changed := true; changed; {
		changed = false
		for _, i := range among {
			if beats(&r.Candidates[i], &r.Candidates[winner]) {
				winner, changed = i, true
			}
		}
	}
	return winner
}

// sound returns those of some candidates whose spread is better than now, and whose standard
// deviation and share of the band within bounds are not worse; all if there are none.
func (r *Result) sound(among []int) []int {
	list := slices.Clone(among)
	if r.Now == nil {
		return list
	}
	list = slices.DeleteFunc(list, func(i int) bool {
		c := r.Candidates[i].Card.Compare(&r.Now.Card)
		return c[response.SpreadFigure].Mark != response.Better || c.LessEven()
	})
	if len(list) == 0 {
		return slices.Clone(among)
	}
	return list
}

// DropWorse drops the layouts after the first that are worse than now, in the spread at the main seat and in
// the score: an owner does not move things to make them worse.
func (r *Result) DropWorse() {
	if r.Now == nil || len(r.Candidates) == 0 {
		return
	}
	first := r.Candidates[:1:1]
	rest := slices.DeleteFunc(slices.Clone(r.Candidates[1:]), func(c score.Candidate) bool {
		return c.Score > r.Now.Score && c.Card.Compare(&r.Now.Card)[response.SpreadFigure].Mark == response.Worse
	})
	r.Candidates = append(first, rest...)
}

func compareLevels(a, b model.Level) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// decider is a figure that decides between equals: a larger value is worse, and a difference up to least
// counts as none.
type decider struct {
	fault func(*score.Candidate) float64
	least func(response.Resolution) float64
}

func (r *Result) deciders() []decider {
	spread := func(n response.Resolution) float64 { return n[response.SpreadFigure] }
	deviation := func(n response.Resolution) float64 { return n[response.DeviationFigure] }
	fixed := func(v float64) func(response.Resolution) float64 {
		return func(response.Resolution) float64 { return v }
	}
	return []decider{
		{badLuck, fixed(LeastGain)},
		{func(c *score.Candidate) float64 { return -off(c) }, fixed(tapeError)},
		{func(c *score.Candidate) float64 { return float64(c.Card.Deviation) }, deviation},
		{others, spread},
		{func(c *score.Candidate) float64 { return float64(c.Judgement.Difference) }, deviation},
		{r.effort, fixed(0)},
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

// beats reports whether a layout is better than another in every figure.
func beats(a, b *score.Candidate) bool {
	for _, change := range a.Card.Against(b.Card.Card, response.Resolution{}) {
		if change.Known && change.Mark != response.Better {
			return false
		}
	}
	rest := others(a) < others(b) || len(a.Seats) == 0
	return rest && a.Score < b.Score && off(a) > off(b) && a.Judgement.Difference < b.Judgement.Difference && badLuck(a) < badLuck(b)
}
