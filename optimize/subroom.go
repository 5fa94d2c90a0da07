package optimize

import (
	"context"
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// subRoom is all that a search for subwoofers asks again and again, tabulated: what
// arrives at every head from the pair and from every place for a subwoofer.
//
// Every loudspeaker is taken as a point that is flat outdoors above its low limit (see
// [response.ClosedBox]): equal volume acceleration. A transfer per unit volume velocity
// differs from that by the same factor for all, so the ways add up as they are.
type subRoom struct {
	project *model.Project
	sub     *model.Subwoofers
	layout  model.Layout
	whole   model.Engine
	grid    model.Grid // of the goal's band
	reader  *response.Reader
	heads   []subHead
	perches []subPlace
	desks   *scratchPool

	coarseDrives []coarseDrive
}

// subHead is one place of one head.
type subHead struct {
	name   string
	at     r3.Vec
	marked bool    // where the seat is, not beside it
	share  float64 // of the seat, if marked
	weight float64 // of this place in the score
	field  model.Field
	alone  response.Pair // the pair without subwoofers
	mains  response.Pair // the pair beside subwoofers, high-pass included
}

// subPlace is a place for one subwoofer, or for several that are set alike, with what
// arrives from there at each head.
type subPlace struct {
	perch model.Perch
	twin  *subPlace // the second of two that are set alike
	heads [][]complex128
}

// seated is a subwoofer in the making.
type seated struct {
	place subPlace
	knobs Knobs
}

func newSubRoom(ctx context.Context, p *model.Project, b *banded, l model.Layout, s SubSettings) (*subRoom, error) {
	r := &subRoom{
		project: p, sub: p.Subwoofers, layout: l, whole: b.Engine, grid: b.Grid(), reader: b.reader(p.Goal),
		desks: newScratchPool(len(b.Grid())),
	}
	if err := r.fillSeats(ctx, b, s.Displacement); err != nil {
		return nil, err
	}
	for _, q := range p.Perches(s.Pitch) {
		if r.free(q) {
			r.perches = append(r.perches, subPlace{perch: q})
		}
	}
	r.coarseDrives = r.newCoarseDrives()
	return r, parallel(len(r.perches), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		r.perches[i].heads = r.arrivals(r.perches[i].perch)
		return nil
	})
}

// fillSeats sets up the heads: each seat's place and four about it.
func (r *subRoom) fillSeats(ctx context.Context, b *banded, shift float64) error {
	p := r.project
	weights := shares(p)
	for i, seat := range p.Seats {
		if weights[i] == 0 {
			continue
		}
		places := (&scorer{shift: shift, size: p.Room.Size}).around(r.layout.Seat)
		if i > 0 {
			places = headBox(seatPlace(p, seat), p.Room.Size)
		}
		for j, at := range places {
			r.heads = append(r.heads, subHead{
				name: seatName(seat, i), at: at, marked: j == 0, share: weights[i], weight: weights[i] / float64(len(places)),
			})
		}
	}
	return parallel(len(r.heads), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		h := &r.heads[i]
		var err error
		if h.field, err = b.Field(h.at); err != nil {
			return err
		}
		h.alone, h.mains = r.mains(h.field, r.grid, false), r.mains(h.field, r.grid, true)
		return nil
	})
}

// mains returns what arrives from the pair, with the high-pass or without.
func (r *subRoom) mains(field model.Field, grid model.Grid, filtered bool) response.Pair {
	pair := response.Pair{Left: field.Transfer(nil, r.layout.Left), Right: field.Transfer(nil, r.layout.Right)}
	for i, f := range grid {
		h := response.ClosedBox(r.project.Speakers.LowLimit, f)
		if filtered && r.sub.HighPass > 0 {
			h *= response.HighPass(r.sub.Filter, r.sub.HighPass, f)
		}
		pair.Left[i] *= h
		pair.Right[i] *= h
	}
	return pair
}

// arrive returns what arrives from a subwoofer with all its knobs at nought.
func (r *subRoom) arrive(field model.Field, grid model.Grid, q model.Perch) []complex128 {
	t := field.Transfer(nil, q.Driver)
	for i, f := range grid {
		t[i] *= response.ClosedBox(r.sub.LowLimit, f)
	}
	return t
}

func (r *subRoom) arrivals(q model.Perch) [][]complex128 {
	list := make([][]complex128, len(r.heads))
	for i, h := range r.heads {
		list[i] = r.arrive(h.field, r.grid, q)
	}
	return list
}

// placed returns the places of the subwoofers that stand already.
func (r *subRoom) placed() []subPlace {
	var list []subPlace
	for _, at := range r.sub.Placed {
		q := r.project.PerchAt(at)
		list = append(list, subPlace{perch: q, heads: r.arrivals(q)})
	}
	return list
}

// free reports whether a subwoofer is clear of the pair's boxes and of the heads.
func (r *subRoom) free(q model.Perch) bool {
	box := r.sub.Cabinet(q)
	for _, at := range []r3.Vec{r.layout.Left, r.layout.Right} {
		if box.Overlaps(r.project.Speakers.Cabinet(at)) {
			return false
		}
	}
	for _, h := range r.heads {
		if h.marked && model.Plan(q.Driver, h.at) < model.LeastDistance {
			return false
		}
	}
	return true
}

// apart reports whether a place is clear of the subwoofers of a set but number skip.
func (r *subRoom) apart(pl *subPlace, set []seated, skip int) bool {
	for i := range set {
		if i != skip && r.sub.Cabinet(pl.perch).Overlaps(r.sub.Cabinet(set[i].place.perch)) {
			return false
		}
	}
	return pl.twin == nil || r.apart(pl.twin, set, skip)
}

// twins returns every two places that mirror each other across, along or both, as one.
func (r *subRoom) twins() []subPlace {
	size := r.project.Room.Size
	var list []subPlace
	for i := range r.perches {
		a := &r.perches[i]
		for j := i + 1; j < len(r.perches); j++ {
			b := &r.perches[j]
			same := func(u, v float64) bool { return math.Abs(u-v) < 0.02 }
			u, v := a.perch.Driver, b.perch.Driver
			x, y := same(u.X, size.X-v.X), same(u.Y, size.Y-v.Y)
			if !(x && y || x && same(u.Y, v.Y) || y && same(u.X, v.X)) || r.sub.Cabinet(a.perch).Overlaps(r.sub.Cabinet(b.perch)) {
				continue
			}
			pair := subPlace{perch: a.perch, twin: b, heads: make([][]complex128, len(r.heads))}
			for h := range r.heads {
				sum := make([]complex128, len(r.grid))
				for f := range sum {
					sum[f] = a.heads[h][f] + b.heads[h][f]
				}
				pair.heads[h] = sum
			}
			list = append(list, pair)
		}
	}
	return list
}
