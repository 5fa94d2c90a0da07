package optimize

import (
	"context"
	"slices"

	"evenbass/model/response"
)

// How many places of a first look are looked at closely, how many sets go on to the next
// number, how often every subwoofer of a set is tried elsewhere, and the gain in dB that
// is worth it.
const (
	closeLooks    = 10
	breadth       = 6
	exchanges     = 3
	worthExchange = 0.02
)

// wider returns the best sets of each number's, the best first, with one more
// subwoofer: one is added to each of the last, or two set alike that mirror each other
// to each of the last but one, and in the best each is tried elsewhere. It is empty if
// there is no place.
func (r *subRoom) wider(ctx context.Context, beams [][][]seated) [][]seated {
	n := len(beams)
	var grown [][]seated
	for _, set := range beams[n-1] {
		if ctx.Err() != nil {
			return nil
		}
		grown = append(grown, r.add(set, r.perches)...)
	}
	if n >= 2 {
		for _, set := range beams[n-2] {
			if ctx.Err() != nil {
				return nil
			}
			grown = append(grown, r.add(set, r.twins())...)
		}
	}
	grown = r.best(grown, 2*breadth)
	parallel(len(grown), func(i int) error {
		grown[i] = r.tuned(grown[i])
		return nil
	})
	grown = r.best(grown, breadth)
	parallel(len(grown), func(i int) error {
		grown[i] = r.exchange(ctx, grown[i])
		return nil
	})
	return r.best(grown, breadth)
}

// best returns the best sets that do not all stand alike, the best first.
func (r *subRoom) best(sets [][]seated, most int) [][]seated {
	scores := make([]setting, len(sets))
	parallel(len(sets), func(i int) error {
		scores[i].score = r.score(sets[i])
		return nil
	})
	order := make([]int, len(sets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compareScores(scores[a].score, scores[b].score) })
	var kept [][]seated
	for _, i := range order {
		if len(kept) < most && !slices.ContainsFunc(kept, func(k []seated) bool { return alike(k, sets[i]) }) {
			kept = append(kept, sets[i])
		}
	}
	return kept
}

// alike reports whether two sets stand in the same places.
func alike(a, b []seated) bool {
	for _, s := range a {
		if !slices.ContainsFunc(b, func(o seated) bool { return o.place.perch == s.place.perch }) {
			return false
		}
	}
	return len(a) == len(b)
}

// add returns a set with each of what does best of some places.
func (r *subRoom) add(set []seated, places []subPlace) [][]seated {
	var grown [][]seated
	for _, s := range r.look(r.base(set, -1), places, set, -1) {
		next := append(slices.Clone(set), s)
		if s.place.twin != nil {
			next[len(set)].place = *r.single(s.place)
			next = append(next, seated{*s.place.twin, s.knobs})
		}
		grown = append(grown, next)
	}
	return grown
}

// single returns the first of two places set alike by itself.
func (r *subRoom) single(pl subPlace) *subPlace {
	for i := range r.perches {
		if r.perches[i].perch == pl.perch {
			return &r.perches[i]
		}
	}
	panic("optimize: a twin without its place")
}

// look tries one more subwoofer on a base at every place that is clear of a set but
// number skip, and returns the best few, well set.
func (r *subRoom) look(base []response.Pair, places []subPlace, set []seated, skip int) []seated {
	type glance struct {
		n      int
		starts []setting
	}
	glances := make([]glance, len(places))
	parallel(len(places), func(i int) error {
		if glances[i].n = i; r.apart(&places[i], set, skip) {
			glances[i].starts = r.coarse(base, places[i].heads)
		}
		return nil
	})
	glances = slices.DeleteFunc(glances, func(g glance) bool { return g.starts == nil })
	slices.SortStableFunc(glances, func(a, b glance) int { return compareScores(a.starts[0].score, b.starts[0].score) })
	glances = glances[:min(closeLooks, len(glances))]
	found := make([]seated, len(glances))
	parallel(len(glances), func(i int) error {
		found[i] = r.settle(base, places[glances[i].n], glances[i].starts)
		return nil
	})
	return found
}

// exchange tries each subwoofer of a set elsewhere until that brings nothing more.
func (r *subRoom) exchange(ctx context.Context, set []seated) []seated {
	if len(set) < 2 {
		return set // it has been looked for everywhere
	}
	score := r.score(set)
	for range exchanges {
		before := score
		for i := range set {
			if ctx.Err() != nil {
				return set
			}
			var others [][]seated
			for _, s := range r.look(r.base(set, i), r.perches, set, i) {
				other := slices.Clone(set)
				other[i] = s
				others = append(others, other)
			}
			for _, other := range r.best(others, 1) {
				other = r.tuned(other)
				if v := r.score(other); v < score-worthExchange {
					set, score = other, v
				}
			}
		}
		if score > before-worthExchange {
			break
		}
	}
	return set
}

// tuned sets every subwoofer of a set again, one after the other, until that brings
// nothing more, and brings all knobs to their steps.
func (r *subRoom) tuned(set []seated) []seated {
	set = slices.Clone(set)
	last := r.score(set)
	for range 3 {
		for i := range set {
			set[i].knobs = r.refine(r.base(set, i), set[i].place.heads, set[i].knobs).knobs
		}
		now := r.score(set)
		if now > last-worthExchange {
			break
		}
		last = now
	}
	for range 2 {
		for i := range set {
			set[i].knobs = r.round(r.base(set, i), set[i].place.heads, set[i].knobs).knobs
		}
	}
	return set
}
