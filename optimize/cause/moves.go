package cause

import (
	"context"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
)

// Moves says what shifts a dip. A dip moves with a mark if moving the mark by 10 cm
// shifts the dip's frequency by more than 1/24 octave, or removes the dip.
type Moves int

// What a dip may move with. The zero value is "not looked at".
const (
	MovesUnknown Moves = iota
	MovesWithSeat
	MovesWithSpeakers
	MovesWithBoth
	Stays
)

const (
	nudgeBy     = 0.10     // m
	nearlyStill = 1.0 / 24 // octave
)

// nudged holds the dips of a layout that remain after small moves of the seat and of the
// speakers.
type nudged struct{ seat, speakers [][3][]response.Feature }

// nudge moves the seat and the pair to the front and to the back, and the pair
// apart and together.
func nudge(ctx context.Context, size r3.Vec, e model.Engine, r *response.Reader, l model.Layout) (nudged, error) {
	var n nudged
	for _, d := range []float64{-nudgeBy, nudgeBy} {
		seat, along, across := l, l, l
		seat.Seat.X += d
		along.Left.X += d
		along.Right.X += d
		across.Left.Y -= d
		across.Right.Y += d
		for i, m := range []model.Layout{seat, along, across} {
			m.Left, m.Right, m.Seat = geometry.Inside(m.Left, size), geometry.Inside(m.Right, size), geometry.Inside(m.Seat, size)
			p, err := score.PairAt(ctx, e, m)
			if err != nil {
				return n, err
			}
			var found [3][]response.Feature
			for _, c := range response.Channels {
				found[c] = r.Features(c, p.Of(c), leastDip/2)
			}
			if i == 0 {
				n.seat = append(n.seat, found)
			} else {
				n.speakers = append(n.speakers, found)
			}
		}
	}
	return n, nil
}

// verdict returns what a dip moves with.
func (n *nudged) verdict(dip response.Feature) Moves {
	seat, speakers := moved(dip, n.seat), moved(dip, n.speakers)
	switch {
	case seat && speakers:
		return MovesWithBoth
	case seat:
		return MovesWithSeat
	case speakers:
		return MovesWithSpeakers
	}
	return Stays
}

// moved reports whether a dip left its frequency after any of the nudges.
func moved(dip response.Feature, nudges [][3][]response.Feature) bool {
	return slices.ContainsFunc(nudges, func(found [3][]response.Feature) bool {
		return !slices.ContainsFunc(found[dip.Channel], func(f response.Feature) bool {
			return !f.Peak && octaves(f, dip) <= nearlyStill
		})
	})
}
