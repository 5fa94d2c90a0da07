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
