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

// A state impairs nothing if the spread gains what can be told, and no level and no seat loses what a listener notices,
// be it too little for the prediction to tell. Decays do not count.
func TestUnimpaired(t *testing.T) {
	t.Parallel()
	now := criteria(12, 5, 12, 12)
	now.Card.Within, now.Card.LowOctave, now.Card.Fall.Mean = 0.6, 1, 0.2
	then := func(change func(*Criteria)) Criteria {
		c := criteria(10, 5, 10, 12)
		c.Card.Within, c.Card.LowOctave, c.Card.Fall.Mean = 0.6, 1, 0.2
		c.Card.Least = response.Resolution{0.5, 2, 0.2, 3, 3, 0.01, 0.01}
		change(&c)
		return c
	}
	for name, c := range map[string]struct {
		then Criteria
		want bool
	}{
		"nothing else":                    {then(func(*Criteria) {}), true},
		"too little spread to tell":       {then(func(c *Criteria) { c.Card.Spread = 11.6 }), false},
		"a deviation that is noticed":     {then(func(c *Criteria) { c.Card.Deviation = 5.3 }), false},
		"a deviation that nobody notices": {then(func(c *Criteria) { c.Card.Deviation = 5.2 }), true},
		"a lowest octave 2.1 dB off":      {then(func(c *Criteria) { c.Card.LowOctave = -2.1 }), false},
		"a lowest octave 1.9 dB off":      {then(func(c *Criteria) { c.Card.LowOctave = -1.9 }), true},
		"less within bounds":              {then(func(c *Criteria) { c.Card.Within = 0.54 }), false},
		"a worse sofa":                    {then(func(c *Criteria) { c.Seats[1].Spread = 12.6 }), false},
		"longer decays":                   {then(func(c *Criteria) { c.Card.Fall.Mean = 0.3 }), true},
	} {
		if got := Unimpaired(&now, &c.then); got != c.want {
			t.Errorf("%s: unimpaired is %v", name, got)
		}
	}
}

// Another state relieves one that impairs something only where it does better there by as much as a listener notices.
func TestRelieves(t *testing.T) {
	t.Parallel()
	state := func(low, sofa model.Level) Criteria {
		c := criteria(10, 5, 10, sofa)
		c.Card.LowOctave = low
		return c
	}
	now := criteria(12, 5, 12, 12)
	for name, c := range map[string]struct {
		impaired, other Criteria
		want            bool
	}{
		"the octave":                        {state(-4, 12), state(-0.5, 12), true},
		"the octave, by too little":         {state(-1.1, 12), state(-0.9, 12), false},
		"the sofa":                          {state(0, 14), state(0, 12.4), true},
		"the sofa, by too little":           {state(0, 12.6), state(0, 12.4), false},
		"the octave, at the cost of a sofa": {state(-4, 12), state(-0.5, 13), false},
		"nothing is impaired":               {state(0, 12), state(0, 11), false},
	} {
		if got := Relieves(&now, &c.impaired, &c.other); got != c.want {
			t.Errorf("%s: relieves is %v", name, got)
		}
	}
}
