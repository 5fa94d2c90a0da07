package response

// Ranged is a predicted card with the same card in other plausible rooms.
type Ranged struct {
	Card

	// Ends holds the card with typical, with hard and with soft walls, all by one engine. That
	// engine may be coarser than the one of the card itself.
	Ends []Card

	// Trials holds the card in random rooms, the same ones for all states that are compared.
	// Their falls are not known.
	Trials []Card

	Least Resolution // the smallest change that the engine itself resolves
}

// Resolution returns the smallest change from another state that the prediction resolves: by the trials where
// a figure is known in them, else by hard and soft walls, but no finer than the engine itself.
func (r *Ranged) Resolution(before *Ranged) Resolution {
	found := NewResolution(before.Ends, r.Ends)
	if len(r.Trials) > 0 && len(r.Trials) == len(before.Trials) {
		with := func(c Card, trials []Card) []Card {
			c.Fall = Fall{}
			return append([]Card{c}, trials...)
		}
		tried := NewResolution(with(before.Card, before.Trials), with(r.Card, r.Trials))
		for _, f := range FigureList {
			if _, known := r.Trials[0].Value(f); known {
				found[f] = tried[f]
			}
		}
	}
	return found.Widest(r.Least).Widest(before.Least)
}

// Compare compares a state with the one before by what the prediction resolves.
func (r *Ranged) Compare(before *Ranged) Comparison {
	return r.Against(before.Card, r.Resolution(before))
}
