package wave

import (
	"context"
	"errors"
	"math"
	"slices"

	"evenbass/model/concurrent"
)

// run is one march from one source.
type run struct {
	*system
	*state
	pulse  pulse
	source []sourceCell
	record []int32 // cells whose pressure is kept
	every  int     // steps between two records
	limit  int     // steps at most
	fall   float64 // energy share at which to stop
	watch  int     // records over which energy is watched before it may stop
	lag    int     // records between two pressures that are compared
	loss   float64 // decay that the transform adds, 1/s

	bands   []band
	whole   band // all of them
	linked  bool // there is drag between two bands
	alone   bool // band 0 does the work of all
	barrier *barrier

	tape   tape
	frames [][]float32 // by time: pressure of every recorded cell, on the tape
	energy []float64   // by time: sum of squared changes of pressure
	most   float64     // the largest of them
	early  bool        // stopped by the limit
	cancel error
}

// errGrows is a mistake of this package's: no scene should lead to it.
var errGrows = errors.New("the pressure grows without bound")

// sourceCell is a cell in which the source works, with its share of the pressure
// per volume velocity in one step, Pa·s/m³.
type sourceCell struct {
	cell int32
	gain float64
}

// march runs until the energy has fallen, the limit is reached or ctx ends.
// progress, if not nil, hears now and then how far the decay has come, 0..1.
func (r *run) march(ctx context.Context, progress func(done float64)) {
	r.barrier, r.alone = newBarrier(len(r.bands)), false
	var group concurrent.Group
	for w := 1; w < len(r.bands); w++ {
		group.Go(func() { r.work(ctx, w, nil) })
	}
	r.work(ctx, 0, progress)
	group.Wait()
}

// work is the loop of one band. Band 0 decides when to stop, and when to go on alone
// with the planes of all; the others learn it after the barrier.
func (r *run) work(ctx context.Context, w int, progress func(float64)) {
	b := &r.bands[w]
	meet := r.barrier.wait
	now, next := r.now, r.next
	for n := 0; ; n++ {
		last := len(b.planes) - 1
		if r.linked { // the band above needs this
			r.flows(&b.planes[last], now, n)
		}
		record := n%r.every == 0
		if w == 0 && record {
			r.open(ctx, n, progress)
		}
		if record || r.linked {
			meet()
		}
		// First this: who goes on alone does not wait for the others to read more.
		if r.alone && w > 0 {
			return
		}
		if r.cancel != nil || r.frames[len(r.frames)-1] == nil {
			return
		}
		if r.alone {
			b, meet = &r.whole, func() {}
			last = len(b.planes) - 1
		}
		if record {
			r.keep(b, now)
		}
		for i := range b.planes {
			p := &b.planes[i]
			if i < last || !r.linked {
				r.flows(p, now, n)
			}
			r.advance(p, next, now)
		}
		r.finish(b, next, now, n)
		meet()
		now, next = next, now
	}
}

// open begins the record of step n, or ends the run with a nil frame.
func (r *run) open(ctx context.Context, n int, progress func(float64)) {
	r.measure()
	done := r.decayed(n)
	if progress != nil && len(r.frames)%32 == 0 {
		progress(done)
	}
	if r.cancel = ctx.Err(); r.cancel != nil {
		return
	}
	if math.IsNaN(r.most) || math.IsInf(r.most, 0) {
		r.cancel = errGrows
		return
	}
	if !r.alone { // once alone, for good: the others may yet read it
		r.alone = r.barrier.hampered(n)
	}
	r.early = n >= r.limit && done < 1
	if done >= 1 || r.early {
		r.frames = append(r.frames, nil)
		return
	}
	r.frames = append(r.frames, r.tape.frame(len(r.record)))
}

// measure notes the energy of the last frame: the sum of squares of what has
// changed since a quarter of the lowest period before. A pressure that only
// creeps, as rounding makes it do in a closed room, does not count.
func (r *run) measure() {
	last := len(r.frames) - 1
	if last < r.lag {
		return
	}
	sum := change(r.frames[last], r.frames[last-r.lag])
	r.energy = append(r.energy, sum)
	r.most = max(r.most, sum)
}

// change returns the sum of squares of a - b, which are as long. Sums side by side do not
// wait for one another.
func change(a, b []float32) float64 {
	var s, t, u, v float64
	b = b[:len(a)]
	for ; len(a) >= 4; a, b = a[4:], b[4:] {
		b := b[:len(a)]
		d0, d1, d2, d3 := float64(a[0]-b[0]), float64(a[1]-b[1]), float64(a[2]-b[2]), float64(a[3]-b[3])
		s, t, u, v = s+d0*d0, t+d1*d1, u+d2*d2, v+d3*d3
	}
	for i, p := range a {
		d := float64(p - b[i])
		s += d * d
	}
	return s + t + u + v
}

// decayed returns how far the energy has fallen at step n, 0..1 on a scale of
// decibels: 1 is as far as wanted.
func (r *run) decayed(n int) float64 {
	last := len(r.energy)
	if n <= r.pulse.len+r.every || last < 2*r.watch {
		return 0
	}
	recent := slices.Max(r.energy[last-r.watch:])
	if r.most == 0 {
		return 1
	}
	seconds := float64(n)*r.step - r.pulse.delay
	share := recent / r.most * math.Exp(-2*r.loss*seconds)
	if share <= r.fall {
		return 1
	}
	return max(0, math.Log(share)/math.Log(r.fall))
}

// keep records the pressures of a band's cells.
func (r *run) keep(b *band, now []float32) {
	frame := r.frames[len(r.frames)-1]
	for _, e := range b.record {
		copy(frame[e.to:], now[e.cells.from:e.cells.to])
	}
}
