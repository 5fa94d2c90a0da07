package subwoofer

import (
	"cmp"
	"context"
	"slices"

	"evenbass/model/concurrent"
	"evenbass/model/response"
)

// Limits of the search: places tried closely after the coarse search, for a further subwoofer and for one
// that is tried elsewhere; sets carried on to the next number; rounds in which each subwoofer of a set is
// tried elsewhere; and the least gain of a change, dB.
const (
	closeTries     = 10
	closeElsewhere = 4
	breadth        = 6
	exchanges      = 3
	worthExchange  = 0.02
)

// extend returns the best sets with one more subwoofer, the best first. It adds one
// subwoofer to each of the last sets, or a mirrored pair set alike to each of the last but
// one, and then tries each subwoofer of the best sets elsewhere. It is empty if there is no
// place.
func (r *tables) extend(ctx context.Context, beams [][][]unit) [][]unit {
	n := len(beams)
	var grown [][]unit
	for _, set := range beams[n-1] {
		if ctx.Err() != nil {
			return nil
		}
		grown = append(grown, r.add(set, r.places)...)
	}
	if n >= 2 {
		for _, set := range beams[n-2] {
			if ctx.Err() != nil {
				return nil
			}
			grown = append(grown, r.add(set, r.mirroredPairs())...)
		}
	}
	grown = r.best(grown, 2*breadth)
	concurrent.Each(len(grown), func(i int) error {
		grown[i] = r.tune(grown[i])
		return nil
	})
	grown = r.best(grown, breadth)
	concurrent.Each(len(grown), func(i int) error {
		grown[i] = r.exchange(ctx, grown[i])
		return nil
	})
	return r.best(grown, breadth)
}

// best returns the best sets in different places, the best first.
func (r *tables) best(sets [][]unit, most int) [][]unit {
	scores := make([]ratedSetting, len(sets))
	concurrent.Each(len(sets), func(i int) error {
		scores[i].score = r.Score(sets[i])
		return nil
	})
	order := make([]int, len(sets))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(scores[a].score, scores[b].score) })
	var kept [][]unit
	for _, i := range order {
		if len(kept) < most && !slices.ContainsFunc(kept, func(k []unit) bool { return samePlaces(k, sets[i]) }) {
			kept = append(kept, sets[i])
		}
	}
	return kept
}

// samePlaces reports whether two sets stand in the same places.
func samePlaces(a, b []unit) bool {
	for _, s := range a {
		if !slices.ContainsFunc(b, func(o unit) bool { return o.place.at == s.place.at }) {
			return false
		}
	}
	return len(a) == len(b)
}

// add returns the set extended by each of the best of some places.
func (r *tables) add(set []unit, places []place) [][]unit {
	var grown [][]unit
	for _, s := range r.tryPlaces(r.base(set, -1), places, set, -1, closeTries) {
		next := append(slices.Clone(set), s)
		if s.place.partner != nil {
			next[len(set)].place = *r.single(s.place)
			next = append(next, unit{*s.place.partner, s.setting})
		}
		grown = append(grown, next)
	}
	return grown
}

// single returns the first place of a mirrored pair by itself.
func (r *tables) single(pl place) *place {
	for i := range r.places {
		if r.places[i].at == pl.at {
			return &r.places[i]
		}
	}
	panic("subwoofer: a mirrored place without its place")
}

// tryPlaces tries one more subwoofer on a base at every place that is clear of a set but
// number skip. It returns the best few with refined settings, as many as are tried closely.
func (r *tables) tryPlaces(base []response.Pair, places []place, set []unit, skip, closely int) []unit {
	type firstLook struct {
		n      int
		starts []ratedSetting
	}
	looks := make([]firstLook, len(places))
	concurrent.Each(len(places), func(i int) error {
		if looks[i].n = i; r.apart(&places[i], set, skip) {
			looks[i].starts = r.coarse(base, places[i].transfers)
		}
		return nil
	})
	looks = slices.DeleteFunc(looks, func(g firstLook) bool { return g.starts == nil })
	slices.SortStableFunc(looks, func(a, b firstLook) int { return cmp.Compare(a.starts[0].score, b.starts[0].score) })
	looks = looks[:min(closely, len(looks))]
	found := make([]unit, len(looks))
	concurrent.Each(len(looks), func(i int) error {
		found[i] = r.refineBest(base, places[looks[i].n], looks[i].starts)
		return nil
	})
	return found
}

// exchange tries each subwoofer of a set elsewhere until nothing improves.
func (r *tables) exchange(ctx context.Context, set []unit) []unit {
	if len(set) < 2 {
		return set // every place has been tried already
	}
	score := r.Score(set)
	for range exchanges {
		before := score
		for i := range set {
			if ctx.Err() != nil {
				return set
			}
			var others [][]unit
			for _, s := range r.tryPlaces(r.base(set, i), r.places, set, i, closeElsewhere) {
				other := slices.Clone(set)
				other[i] = s
				others = append(others, other)
			}
			for _, other := range r.best(others, 1) {
				other = r.tune(other)
				if v := r.Score(other); v < score-worthExchange {
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

// tune refines the setting of every subwoofer of a set, one after the other until nothing
// improves, then all together, and rounds all values to their steps.
func (r *tables) tune(set []unit) []unit {
	set = slices.Clone(set)
	last := r.Score(set)
	for range 3 {
		for i := range set {
			set[i].setting = r.refine(r.base(set, i), set[i].place.transfers, set[i].setting).setting
		}
		now := r.Score(set)
		if now > last-worthExchange {
			break
		}
		last = now
	}
	set = r.together(set)
	for range 2 {
		for i := range set {
			set[i].setting = r.round(r.base(set, i), set[i].place.transfers, set[i].setting).setting
		}
	}
	return set
}
