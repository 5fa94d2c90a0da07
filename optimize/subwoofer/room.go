package subwoofer

import (
	"context"
	"math"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// tables holds the transfers that a search for subwoofers combines: what arrives at every listener
// from the pair and from every place for a subwoofer.
//
// Every loudspeaker is treated as a point that is flat outdoors above its low limit (see
// [response.RollOff]): equal volume acceleration. A transfer per unit volume velocity
// differs from that by the same factor for all, so contributions add up as they are.
type tables struct {
	project    *model.Project
	sub        *model.Subwoofers
	layout     model.Layout
	whole      model.Engine
	grid       model.Grid // of the goal's band
	reader     *response.Reader
	listeners  []listener
	places     []place
	workspaces *workspaces

	coarseSettings []coarseSetting
}

// listener is one place of the ears at one seat.
type listener struct {
	name   string
	at     r3.Vec
	marked bool    // exactly at the seat, not displaced
	share  float64 // of the seat, if marked
	weight float64 // of this place in the score
	field  model.Field
	alone  response.Pair // the pair without subwoofers
	mains  response.Pair // the pair beside subwoofers, high-pass included
}

// place is a place for one subwoofer, or for two that mirror each other and are set
// alike, with what arrives from there at each listener.
type place struct {
	at        model.SubwooferPlace
	partner   *place // the second of two that are set alike
	transfers [][]complex128
}

// unit is a subwoofer while the search still changes it.
type unit struct {
	place   place
	setting Setting
}

func newTables(ctx context.Context, p *model.Project, b *score.Band, l model.Layout, s Settings) (*tables, error) {
	r := &tables{
		project: p, sub: p.Subwoofers, layout: l, whole: b.Engine, grid: b.Grid(), reader: response.NewReader(b.Grid(), b.Air(), p.Goal),
		workspaces: newWorkspaces(len(b.Grid())),
	}
	if err := r.fillListeners(ctx, b, s.Displacement); err != nil {
		return nil, err
	}
	for _, q := range p.SubwooferPlaces(s.Pitch) {
		if r.free(q) {
			r.places = append(r.places, place{at: q})
		}
	}
	r.coarseSettings = r.newCoarseSettings()
	return r, concurrent.Each(len(r.places), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		r.places[i].transfers = r.transfersFrom(r.places[i].at)
		return nil
	})
}

// fillListeners sets up the listeners: each seat's place and four around it.
func (r *tables) fillListeners(ctx context.Context, b *score.Band, shift float64) error {
	p := r.project
	weights := score.SeatWeights(p)
	for i, seat := range p.Seats {
		if weights[i] == 0 {
			continue
		}
		places := score.Around(r.layout.Seat, shift, p.Room.Size)
		if i > 0 {
			places = score.AroundSeat(score.SeatPlace(p, i, r.layout), p.Room.Size)
		}
		for j, at := range places {
			r.listeners = append(r.listeners, listener{
				name: score.SeatName(seat, i), at: at, marked: j == 0, share: weights[i], weight: weights[i] / float64(len(places)),
			})
		}
	}
	return concurrent.Each(len(r.listeners), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		h := &r.listeners[i]
		var err error
		if h.field, err = b.Field(ctx, h.at); err != nil {
			return err
		}
		h.alone, h.mains = r.mains(h.field, r.grid, false), r.mains(h.field, r.grid, true)
		return nil
	})
}

// mains returns what arrives from the pair, with the high-pass or without.
func (r *tables) mains(field model.Field, grid model.Grid, filtered bool) response.Pair {
	pair := response.Pair{Left: field.Transfer(nil, r.layout.Left), Right: field.Transfer(nil, r.layout.Right)}
	for i, f := range grid {
		h := response.RollOff(r.project.Speakers.RollOff(), f)
		if filtered && r.sub.HighPass > 0 {
			h *= response.HighPass(r.sub.Filter, r.sub.HighPass, f)
		}
		pair.Left[i] *= h
		pair.Right[i] *= h
	}
	return pair
}

// transferFrom returns what arrives from a subwoofer without gain, delay and low-pass.
func (r *tables) transferFrom(field model.Field, grid model.Grid, q model.SubwooferPlace) []complex128 {
	t := field.Transfer(nil, q.Driver)
	for i, f := range grid {
		t[i] *= response.RollOff(r.sub.RollOff(), f)
	}
	return t
}

func (r *tables) transfersFrom(q model.SubwooferPlace) [][]complex128 {
	list := make([][]complex128, len(r.listeners))
	for i, h := range r.listeners {
		list[i] = r.transferFrom(h.field, r.grid, q)
	}
	return list
}

// present returns the places of the present subwoofers.
func (r *tables) present() []place {
	var list []place
	for _, at := range r.sub.Placed {
		q := r.project.SubwooferPlaceAt(at)
		list = append(list, place{at: q, transfers: r.transfersFrom(q)})
	}
	return list
}

// free reports whether a subwoofer is clear of the pair's boxes and of the listeners.
func (r *tables) free(q model.SubwooferPlace) bool {
	box := r.sub.Cabinet(q)
	for _, at := range []r3.Vec{r.layout.Left, r.layout.Right} {
		if box.Overlaps(r.project.Speakers.Cabinet(at)) {
			return false
		}
	}
	for _, h := range r.listeners {
		if h.marked && model.Plan(q.Driver, h.at) < model.LeastDistance {
			return false
		}
	}
	return true
}

// apart reports whether a place is clear of the subwoofers of a set but number skip.
func (r *tables) apart(pl *place, set []unit, skip int) bool {
	for i := range set {
		if i != skip && r.sub.Cabinet(pl.at).Overlaps(r.sub.Cabinet(set[i].place.at)) {
			return false
		}
	}
	return pl.partner == nil || r.apart(pl.partner, set, skip)
}

// mirroredPairs returns every two places that mirror each other across the room, along it,
// or both, as one.
func (r *tables) mirroredPairs() []place {
	size := r.project.Room.Size
	var list []place
	for i := range r.places {
		a := &r.places[i]
		for j := i + 1; j < len(r.places); j++ {
			b := &r.places[j]
			same := func(u, v float64) bool { return math.Abs(u-v) < 0.02 }
			u, v := a.at.Driver, b.at.Driver
			x, y := same(u.X, size.X-v.X), same(u.Y, size.Y-v.Y)
			if !(x && y || x && same(u.Y, v.Y) || y && same(u.X, v.X)) || r.sub.Cabinet(a.at).Overlaps(r.sub.Cabinet(b.at)) {
				continue
			}
			pair := place{at: a.at, partner: b, transfers: make([][]complex128, len(r.listeners))}
			for h := range r.listeners {
				sum := make([]complex128, len(r.grid))
				for f := range sum {
					sum[f] = a.transfers[h][f] + b.transfers[h][f]
				}
				pair.transfers[h] = sum
			}
			list = append(list, pair)
		}
	}
	return list
}
