package wave

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// layoutReach is how far from a mark [Room.Near] answers, m.
const layoutReach = 0.40

// Near implements [model.LayoutEngine] with three runs: from the seat, and from each speaker. By
// reciprocity the speakers' runs answer for all places around the seat and for the other seats. The
// runs of the latest layouts are kept.
func (r *Room) Near(ctx context.Context, l model.Layout, seats ...r3.Vec) (model.Engine, error) {
	n := r.near([3]r3.Vec{l.Seat, l.Left, l.Right}, seats)
	n.once.Do(func() { n.run(ctx) })
	if n.err == nil {
		return n, nil
	}
	r.forget(nil, n)
	if stoppedByAnother(ctx, n.err) {
		return r.Near(ctx, l, seats...)
	}
	return nil, n.err
}

// near returns the kept engine for three marks that answers for these seats, or a new one.
func (r *Room) near(marks [3]r3.Vec, seats []r3.Vec) *layoutEngine {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	for _, n := range r.layouts {
		if n.marks == marks && n.answersFor(seats) {
			return n
		}
	}
	n := &layoutEngine{Room: r, marks: marks, seats: slices.Clone(seats)}
	r.layouts = append(r.layouts, n)
	r.layouts = r.layouts[max(0, len(r.layouts)-layoutsKept):]
	return n
}

// layoutEngine answers for one layout, and for layouts with one mark moved.
type layoutEngine struct {
	*Room
	marks  [3]r3.Vec // seat, left, right
	seats  []r3.Vec  // other seats
	once   sync.Once
	fields [3]nearestField
	marked [2][]complex128 // from the left and the right speaker to the seat, over Settings.MarkGrid
	done   atomic.Bool     // the runs are there
	err    error
}

// Kept returns the transfers from the left and the right speaker of a layout to its seat over
// [Settings].MarkGrid, if [Room.Near] was asked for that layout before and still keeps its runs, and the room
// has such a grid.
func (r *Room) Kept(l model.Layout) (left, right []complex128, ok bool) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	for _, n := range r.layouts {
		if n.marks == [3]r3.Vec{l.Seat, l.Left, l.Right} && n.done.Load() && n.marked[0] != nil {
			return n.marked[0], n.marked[1], true
		}
	}
	return nil, nil, false
}

// answersFor reports whether the engine answers for all of these seats.
func (n *layoutEngine) answersFor(seats []r3.Vec) bool {
	return !slices.ContainsFunc(seats, func(s r3.Vec) bool { return !slices.Contains(n.seats, s) })
}

// run makes the three fields. The seat's covers the room's zones and the surroundings of the
// speakers, so that it serves other layouts too. Each speaker's covers the surroundings of the seat
// and the other seats.
func (n *layoutEngine) run(ctx context.Context) {
	var about [3]model.Block
	for i, m := range n.marks {
		d := r3.Vec{X: layoutReach, Y: layoutReach}
		about[i] = model.Block{Min: r3.Sub(m, d), Max: r3.Add(m, d)}
	}
	seats := about[:1:1]
	for _, s := range n.seats {
		seats = append(seats, model.Block{Min: s, Max: s})
	}
	ofSeat, ofSpeaker := n.Engine.Over(about[1:]), n.Engine.Over(seats)
	if len(n.options.MarkGrid) > 0 {
		c := n.options.Convergence
		c.Decays = true
		ofSpeaker = ofSpeaker.Converging(c)
	}
	if n.Engine.Covers(ofSeat) {
		ofSeat = n.Engine
	} else {
		ofSeat = n.Engine.Over(slices.Concat(n.options.Zones, about[1:]))
	}
	var group concurrent.Group
	var errs [3]error
	for i, m := range n.marks {
		group.Go(func() {
			if i == 0 {
				if n.fields[i], errs[i] = n.Room.field(ctx, ofSeat, m); errs[i] == nil {
					n.fields[i].Field = n.fields[i].Narrowed(n.Engine.Over(about[1:]))
				}
			} else {
				n.fields[i], n.marked[i-1], errs[i] = n.Room.runTo(ctx, ofSpeaker, m, n.marks[0], n.options.MarkGrid)
			}
		})
	}
	group.Wait()
	for i, err := range errs {
		if err != nil && n.err == nil {
			n.err = fmt.Errorf("%s: %w", [3]string{"seat", "left speaker", "right speaker"}[i], err)
		}
	}
	n.done.Store(n.err == nil)
}

// Field implements [model.Engine].
func (n *layoutEngine) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	if samePlace(seat, n.marks[0]) {
		return n.fields[0], nil
	}
	return displaced{n, seat}, nil
}

// displaced is the field of a seat away from the layout's, read from the speakers' runs.
type displaced struct {
	n    *layoutEngine
	seat r3.Vec
}

// Transfer implements [model.Field]. It panics unless the source is one of the layout's speakers.
func (d displaced) Transfer(dst []complex128, source r3.Vec) []complex128 {
	for i, m := range d.n.marks[1:] {
		if samePlace(source, m) {
			return d.n.fields[i+1].Transfer(dst, d.seat)
		}
	}
	panic(fmt.Sprintf("wave: seat %v and source %v are both off the layout", d.seat, source))
}

// roundingError is the largest difference of two coordinates of one place, m. A search names whole
// tenths of a millimetre; places given in inches are not.
const roundingError = 2e-4

// samePlace reports whether two places are the same but for rounding.
func samePlace(a, b r3.Vec) bool { return r3.Norm2(r3.Sub(a, b)) < roundingError*roundingError }
