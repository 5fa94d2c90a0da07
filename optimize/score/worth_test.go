package score

import (
	"testing"

	"evenbass/model"
	"evenbass/model/response"
)

// standing is one with a resolution of 0.5 dB, at a chair and a sofa of weights 0.6 and 0.4.
func criteria(spread, deviation, chair, sofa model.Level) Criteria {
	return Criteria{
		Card:  response.Ranged{Card: response.Card{Spread: spread, Deviation: deviation}, Least: response.Resolution{0.5, 0.3, 0.02, 0.5, 0.5, 0.01, 0.01}},
		Seats: []SeatFigures{{Weight: 0.6, Spread: chair}, {Weight: 0.4, Spread: sofa}},
	}
}

func TestWorthwhile(t *testing.T) {
	t.Parallel()
	now := criteria(12, 5, 12, 12)
	for name, c := range map[string]struct {
		then Criteria
		want bool
	}{
		"less spread":                                {criteria(10, 5, 10, 12), true},
		"too little to tell":                         {criteria(11.8, 5, 11.8, 12), false},
		"the same spread, a smaller deviation":       {criteria(12, 4, 12, 12), true},
		"the same spread, a larger deviation":        {criteria(12, 6, 12, 12), false},
		"more spread, a smaller deviation":           {criteria(13, 4, 13, 12), false},
		"less at the chair, more for all seats":      {criteria(10, 5, 10, 18), false},
		"less at the chair, a little more elsewhere": {criteria(10, 5, 10, 13), true},
		"the same at the chair, better at the sofa":  {criteria(12, 5, 12, 10), true},
	} {
		if got := Worthwhile(&now, &c.then); got != c.want {
			t.Errorf("%s: worthwhile is %v", name, got)
		}
	}
}
