package floormap

import (
	"cmp"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
)

// worthACard returns the allowed place of least spread, if there is one. Where it impairs the band or is off
// balance, the place with the least spread among those that gain without either follows, if there is one.
func (v *surveyor) worthACard(m *Spread, pairs []response.Pair, l model.Layout, now response.Card) []int {
	var order []int
	for n := range m.Spread {
		if m.Allowed(n) {
			order = append(order, n)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.Spread[a], m.Spread[b]) })
	for _, n := range order {
		changes := v.changes(pairs[n], now)
		if changes[response.SpreadFigure].Mark != response.Better {
			break // nor is it at the places after this one
		}
		moved := l
		if moved.Seat = m.Place(n); changes.Impaired() || !Balanced(v.project, l, moved) {
			continue
		}
		if n != order[0] {
			return []int{order[0], n}
		}
		break
	}
	return order[:min(1, len(order))]
}

// changes compares the card of a pair with that of now by what a listener notices. Decays are left out.
func (v *surveyor) changes(pair response.Pair, now response.Card) response.Comparison {
	there := v.reader.Card(pair, nil)
	return there.Against(now, response.Noticeable(now, there))
}

// Balanced reports whether a layout leaves the seat's distances to the two speakers as alike as they should be
// for stereo: they differ by no more than now, the project's own limit, or [model.FreeBalance].
func Balanced(p *model.Project, now, moved model.Layout) bool {
	most := max(model.FreeBalance, p.Listening.Balance, math.Abs(Nearer(now)))
	return math.Abs(Nearer(moved)) <= most
}

// Nearer returns by how much a seat is nearer to the right speaker than to the left one, on plan, m.
func Nearer(l model.Layout) float64 { return model.Plan(l.Left, l.Seat) - model.Plan(l.Right, l.Seat) }
