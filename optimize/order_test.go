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
	forOthers.Score = 9
	r := Result{Now: &now, Candidates: []score.Candidate{worst, worst, close, forOthers}}
	r.DropWorse()
	var left []model.Level
	for _, c := range r.Candidates {
		left = append(left, c.Card.Spread)
	}
	if !slices.Equal(left, []model.Level{14, 10.5, 12}) {
		t.Errorf("left are %v: want the first, what cannot be told from now, and what the other seats gain by", left)
	}
}

// Whatever the figures, every layout is in the order once, and none comes before the first that
// beats it in every figure.
func TestOrderIsNeverBeaten(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := Result{}
		for range rapid.IntRange(1, 5).Draw(t, "layouts") {
			c := offered(model.Level(rapid.IntRange(8, 11).Draw(t, "spread")), model.Level(rapid.IntRange(2, 6).Draw(t, "deviation")), rapid.Float64Range(0, 0.3).Draw(t, "tolerance"))
			c.Judgement.Difference = model.Level(rapid.IntRange(1, 5).Draw(t, "left-right"))
			c.Card.Within, c.Card.Dip.Level = rapid.Float64Range(0, 1).Draw(t, "within"), model.Level(rapid.IntRange(-20, -5).Draw(t, "dip"))
			c.Card.LowOctave = model.Level(rapid.IntRange(-5, 5).Draw(t, "low"))
			r.Candidates = append(r.Candidates, c)
		}
		order := r.Order()
		sorted := slices.Sorted(slices.Values(order))
		for i, n := range sorted {
			if i != n {
				t.Fatalf("order %v", order)
			}
		}
		for _, i := range order[1:] {
			if beats(&r.Candidates[i], &r.Candidates[order[0]]) {
				t.Fatalf("layout %d beats the first in every figure: %v", i, order)
			}
		}
	})
}
