package score

import (
	"math"

	"evenbass/model"
	"evenbass/model/response"
)

// Criteria are what decides between two states of a room: the card of the main seat, and what counts
// at all seats, the main one first; nil if there is one only.
type Criteria struct {
	Card  response.Ranged
	Seats []SeatFigures
}

// Criteria returns what decides between a candidate and another.
func (c *Candidate) Criteria() Criteria { return Criteria{c.Card, c.Seats} }

// Weighted returns the spread at all seats, ears at their marks, by their weights, and whether there is more
// than one that counts.
func (s *Criteria) Weighted() (spread model.Level, several bool) {
	for i, f := range s.Seats {
		spread += model.Level(f.Weight) * f.Spread
		several = several || i > 0 && f.Weight > 0
	}
	return spread, several
}

// OverSeats returns the mark of the spread at all seats by their weights; no difference where only
// one seat counts.
func OverSeats(before, after *Criteria) response.Mark {
	was, several := before.Weighted()
	is, still := after.Weighted()
	if !several || !still {
		return response.NoDifference
	}
	return spreadMark(before, after, is-was)
}

// SeatMark returns the mark of the spread at seat i, which both states have.
func SeatMark(before, after *Criteria, i int) response.Mark {
	return spreadMark(before, after, after.Seats[i].Spread-before.Seats[i].Spread)
}

// spreadMark returns the mark of a spread that grew by some amount.
func spreadMark(before, after *Criteria, grown model.Level) response.Mark {
	least := after.Card.Resolution(&before.Card)[response.SpreadFigure]
	switch by := float64(grown); {
	case math.IsNaN(by) || math.Abs(by) <= least:
		return response.NoDifference
	case by > 0:
		return response.Worse
	}
	return response.Better
}

// Worthwhile reports whether a state is better than the one before by more than the prediction can
// tell: in the spread or, with the spread the same, in more figures than it is worse in. What makes
// all seats together worse, by their weights, is not.
func Worthwhile(before, after *Criteria) bool {
	if OverSeats(before, after) == response.Worse {
		return false
	}
	changes := after.Card.Compare(&before.Card)
	switch changes[response.SpreadFigure].Mark {
	case response.Better:
		return true
	case response.Worse:
		return false
	}
	balance := 0
	count := func(m response.Mark) {
		switch m {
		case response.Better:
			balance++
		case response.Worse:
			balance--
		}
	}
	for _, c := range changes {
		if c.Known {
			count(c.Mark)
		}
	}
	for i := 1; i < min(len(before.Seats), len(after.Seats)); i++ {
		count(SeatMark(before, after, i))
	}
	return balance > 0
}

// Unimpaired reports whether a state has less spread than the one before, by more than the prediction can tell, and
// impairs nothing by as much as a listener notices, whether or not the prediction can tell: no level of the card and
// no seat. Decays do not count, since no search of places looks at them.
func Unimpaired(before, after *Criteria) bool {
	least := after.Card.Resolution(&before.Card)[response.SpreadFigure]
	return float64(before.Card.Spread-after.Card.Spread) > least &&
		Impairment(before, after, response.Noticeable(before.Card.Card, after.Card.Card)) == 0
}

// Relieves reports whether a state impairs nothing, see [Unimpaired], where another one impairs something, and does
// better there than that one by as much as a listener notices: in a figure of the card or at a seat.
func Relieves(before, impaired, other *Criteria) bool {
	if !Unimpaired(before, other) {
		return false
	}
	worse := impaired.Card.Against(before.Card.Card, response.Noticeable(before.Card.Card, impaired.Card.Card))
	noticed := response.Noticeable(impaired.Card.Card, other.Card.Card)
	better := other.Card.Against(impaired.Card.Card, noticed)
	for f := range worse {
		if worse[f].Mark == response.Worse && better[f].Mark == response.Better {
			return true
		}
	}
	least := model.Level(noticed[response.SpreadFigure])
	for i := 1; i < min(len(before.Seats), len(impaired.Seats), len(other.Seats)); i++ {
		if was, is := before.Seats[i].Spread, impaired.Seats[i].Spread; is-was > least && is-other.Seats[i].Spread > least {
			return true
		}
	}
	return false
}

// Impairment returns by how much levels of the card and spreads at the other seats are worse than before beyond a
// resolution, in multiples of it, summed; 0 if none is.
func Impairment(before, after *Criteria, least response.Resolution) float64 {
	card := after.Card.Card
	card.Fall = response.Fall{}
	sum := card.Excess(before.Card.Card, least)
	for i := 1; i < min(len(before.Seats), len(after.Seats)); i++ {
		sum += max(0, float64(after.Seats[i].Spread-before.Seats[i].Spread)/least[response.SpreadFigure]-1)
	}
	return sum
}
