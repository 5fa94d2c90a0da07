package optimize

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// offered returns a layout with a spread, a standard deviation and a tolerance, of which a
// prediction tells 1 dB and 0.5 dB.
func offered(spread, deviation model.Level, tolerance float64) score.Candidate {
	c := score.Candidate{Score: spread, Robust: spread, Tolerance: score.Tolerance{Left: tolerance, Right: tolerance, Seat: tolerance}}
	c.Card = response.Ranged{
		Card:  response.Card{Spread: spread, Deviation: deviation},
		Least: response.Resolution{response.SpreadFigure: 1, response.DeviationFigure: 0.5},
	}
	c.Judgement.Figures[0].Spread = spread
	return c
}

// Between layouts that cannot be told apart by their score, luck, then tolerance, then standard
// deviation and at last the effort decide; a clear lead stays.
func TestOrder(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		list []score.Candidate
		want []int
	}{
		{"by score", []score.Candidate{offered(9, 3, 0.1), offered(7, 3, 0.1), offered(11, 3, 0.1)}, []int{1, 0, 2}},
		{"by tolerance", []score.Candidate{offered(9, 3, 0.02), offered(9.4, 3, 0.10)}, []int{1, 0}},
		{"tolerance within the tape's error", []score.Candidate{offered(9, 3, 0.10), offered(9.4, 3, 0.11)}, []int{0, 1}},
		{"by standard deviation", []score.Candidate{offered(9, 4, 0.1), offered(9.4, 3, 0.1)}, []int{1, 0}},
		{"a clear lead", []score.Candidate{offered(9, 5, 0.02), offered(10.4, 3, 0.1)}, []int{0, 1}},
	} {
		r := Result{Candidates: c.list}
		if got := r.Order(); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	unlucky, lucky := offered(9, 3, 0.1), offered(9.4, 3, 0.1)
	unlucky.Card.Trials = []response.Card{{Spread: 9}, {Spread: 14}}
	lucky.Card.Trials = []response.Card{{Spread: 9.5}, {Spread: 10}}
	if got := (&Result{Candidates: []score.Candidate{unlucky, lucky}}).Order(); got[0] != 1 {
		t.Errorf("by luck: %v", got)
	}
	far, near := offered(9, 3, 0.1), offered(9.4, 3, 0.1)
	far.Layout.Seat, near.Layout.Seat = r3.Vec{X: 2}, r3.Vec{X: 0.5}
	if got := (&Result{Now: &score.Candidate{}, Candidates: []score.Candidate{far, near}}).Order(); got[0] != 1 {
		t.Errorf("by effort: %v", got)
	}
}

// A layout that shrinks the spread and leaves more of the band uneven than now comes after one
// that does better than now in both; where no layout does, the spread decides.
func TestOrderByMoreThanTheSpread(t *testing.T) {
	t.Parallel()
	now := offered(14, 5, 0.05)
	narrow, even, poor := offered(10, 7, 0.05), offered(12, 4, 0.05), offered(13.5, 4, 0.05)
	r := Result{Now: &now, Candidates: []score.Candidate{narrow, poor, even}}
	if got := r.Order(); !slices.Equal(got, []int{2, 0, 1}) {
		t.Errorf("%v, want the even one, then by spread", got)
	}
	r.Candidates = []score.Candidate{poor, narrow}
	if got := r.Order(); !slices.Equal(got, []int{1, 0}) {
		t.Errorf("%v: none is better in both, so the spread decides", got)
	}
}

func TestDropWorse(t *testing.T) {
	t.Parallel()
	now := offered(10, 5, 0.05)
	worst, close, forOthers := offered(14, 5, 0.05), offered(10.5, 5, 0.05), offered(12, 5, 0.05)
	forOthers.Score, forOthers.Seats = 9, []score.SeatFigures{{Weight: 0.5}, {Weight: 0.5}}
	alone := offered(12, 5, 0.05)
	alone.Score = 9
	r := Result{Now: &now, Candidates: []score.Candidate{worst, worst, close, alone, forOthers}}
	r.DropWorse()
	var left []model.Level
	for _, c := range r.Candidates {
		left = append(left, c.Card.Spread)
	}
	if !slices.Equal(left, []model.Level{14, 10.5, 12}) {
		t.Errorf("left are %v: want the first, what cannot be told from now, and what the other seats gain by", left)
	}
}

// Whatever the figures and the score, every layout is in the order once. None comes after one that is better
// in every row of its card by more than the prediction can tell, nor after one that is better in every figure
// and worse in nothing.
func TestOrderIsNeverBeaten(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := Result{}
		level := func(name string, from, to int) model.Level {
			return model.Level(rapid.IntRange(from, to).Draw(t, name))
		}
		for n := range rapid.IntRange(2, 5).Draw(t, "layouts") {
			c := offered(level("spread", 8, 11), level("deviation", 2, 6), rapid.SampledFrom([]float64{0.02, 0.05, 0.30}).Draw(t, "tolerance"))
			c.Judgement.Difference = level("left-right", 1, 2)
			c.Card.Within, c.Card.Dip.Level = rapid.Float64Range(0, 1).Draw(t, "within"), level("dip", -20, -5)
			c.Card.LowOctave = level("low", 1, 5)
			c.Card.Fall = response.Fall{Mean: rapid.Float64Range(0.1, 0.4).Draw(t, "fall"), Least: rapid.Float64Range(0.1, 0.2).Draw(t, "worst fall")}
			if n > 0 && rapid.Bool().Draw(t, "better throughout") {
				c = r.Candidates[n-1]
				by := rapid.SampledFrom([]model.Level{0.1, 2}).Draw(t, "by")
				c.Card.Spread, c.Card.Deviation, c.Card.Dip.Level, c.Card.LowOctave = c.Card.Spread-by, c.Card.Deviation-by, c.Card.Dip.Level+by, c.Card.LowOctave*0.9
				c.Card.Within, c.Card.Fall.Mean, c.Card.Fall.Least = c.Card.Within+0.01, c.Card.Fall.Mean-0.01, c.Card.Fall.Least-0.01
			}
			c.Score = level("score", 8, 12)
			r.Candidates = append(r.Candidates, c)
		}
		order := r.Order()
		sorted := slices.Sorted(slices.Values(order))
		for i, n := range sorted {
			if i != n {
				t.Fatalf("order %v", order)
			}
		}
		first := &r.Candidates[order[0]]
		for _, i := range order[1:] {
			c := &r.Candidates[i]
			exact, resolved := c.Card.Against(first.Card.Card, response.Resolution{}), c.Card.Compare(&first.Card)
			every := func(all response.Comparison) bool {
				return !slices.ContainsFunc(all[:], func(c response.Change) bool { return c.Mark != response.Better })
			}
			rows := off(c) >= off(first) && c.Judgement.Difference <= first.Judgement.Difference && badLuck(c) <= badLuck(first)
			if rows && (every(resolved) || every(exact) && c.Score <= first.Score) {
				t.Fatalf("layout %d beats the first in every figure: %v", i, order)
			}
		}
	})
}

// A layout that is worse in every figure of the card by more than the prediction can tell does not come
// first, however good its score; one whose marks may be off further does.
func TestOrderByTheCardOverTheScore(t *testing.T) {
	t.Parallel()
	robust, better := offered(9, 4, 0.05), offered(7, 3, 0.05)
	robust.Score, better.Score = 9, 11
	better.Card.Within, better.Card.Dip.Level, robust.Card.Dip.Level = 0.8, -5, -9
	robust.Card.LowOctave = 2
	for _, c := range []*score.Candidate{&robust, &better} {
		c.Card.Fall = response.Fall{Mean: float64(c.Card.Spread) / 30, Least: float64(c.Card.Spread) / 30}
	}
	r := Result{Candidates: []score.Candidate{robust, better}}
	if got := r.Order(); got[0] != 1 {
		t.Errorf("%v: the score weighs more than every figure", got)
	}
	r.Candidates[0].Tolerance = score.Tolerance{Left: 0.3, Right: 0.3, Seat: 0.3}
	if got := r.Order(); got[0] != 0 {
		t.Errorf("%v: marks that may be off by 30 cm count for nothing", got)
	}
}

// What is said to decide is what does.
func TestPrecedence(t *testing.T) {
	t.Parallel()
	now := offered(14, 5, 0.05)
	narrow, even := offered(10, 7, 0.05), offered(12, 4, 0.05)
	near, far := offered(9.4, 3, 0.1), offered(9, 3, 0.1)
	far.Layout.Seat = r3.Vec{X: 2}
	for _, c := range []struct {
		name string
		now  *score.Candidate
		list []score.Candidate
		want Precedence
	}{
		{"score", nil, []score.Candidate{offered(9, 5, 0.02), offered(10.4, 3, 0.1)}, Precedence{LowerScore, 9, 10.4}},
		{"marks", nil, []score.Candidate{offered(9.4, 3, 0.10), offered(9, 3, 0.02)}, Precedence{WiderMarks, 0.10, 0.02}},
		{"deviation", nil, []score.Candidate{offered(9.4, 3, 0.1), offered(9, 4, 0.1)}, Precedence{LessDeviation, 3, 4}},
		{"more even", &now, []score.Candidate{even, narrow}, Precedence{Advantage: MoreEven}},
		{"moving", new(score.Candidate), []score.Candidate{near, far}, Precedence{LessMoving, 0, 2}},
		{"nothing", nil, []score.Candidate{offered(9, 3, 0.1), offered(9, 3, 0.1)}, Precedence{}},
	} {
		r := Result{Now: c.now, Candidates: c.list}
		if order := r.Order(); order[0] != 0 {
			t.Errorf("%s: order %v", c.name, order)
		}
		if got := r.Precedence(0, 1); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
