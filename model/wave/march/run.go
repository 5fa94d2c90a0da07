package march

import (
	"context"
	"errors"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/prediction"
)

// Request says what a run is to do.
type Request struct {
	Source []lattice.Weight // cells in which the source works, with their shares of it
	Cells  []int32          // cells to record, in order

	Lowest, Highest float64 // frequencies wanted, Hz

	Fall    model.Level // stop when the energy has fallen this far
	Longest float64     // stop after this time in any case, s

	// SettlingTime, if it is above 0, is a time in s from which on a fall of 30 dB will do; see
	// SettlingTime in package response.
	SettlingTime float64

	Convergence Convergence // stop also when levels have converged

	Loss float64 // decay that the transform adds, 1/s

	Progress model.Progress // receives now and then how far the decay has come
}

// Record is the result of a run.
type Record struct {
	Frames [][]float32 // by time: the pressure of every recorded cell
	every  int         // steps between two frames
	step   float64     // s
	pulse  pulse
	energy []float64            // by time: sum of squared changes of pressure
	Rest   prediction.Predictor // of what follows the frames; nil where they hold all
	Early  bool                 // the run reached its longest time before its energy had fallen far enough
	grid   dispersion
	arena  arena
}

// Seconds returns how long the run lasted, in the room's time.
func (r *Record) Seconds() float64 { return float64(len(r.Frames)*r.every) * r.step }

// Reading returns, for a frequency in Hz, the phase in rad per frame at which to transform the
// frames, and the factor from that sum to pressure per volume velocity. In air with losses the
// phase is complex.
func (r *Record) Reading(f float64) (phase, gain complex128) {
	w, every := 2*math.Pi*f, complex(float64(r.every), 0)
	return r.phase(f), every * r.grid.gain(w) / r.pulse.spectrum(r.grid.phase(w))
}

// phase is that of [Record.Reading], which takes far longer for the factor.
func (r *Record) phase(f float64) complex128 {
	return r.grid.phase(2*math.Pi*f) * complex(float64(r.every), 0)
}

// Fallen returns how far the energy had fallen at the end.
func (r *Record) Fallen() model.Level {
	if len(r.energy) == 0 {
		return 0
	}
	return model.PowerLevel(slices.Max(r.energy) / r.energy[len(r.energy)-1])
}

// Release hands the record's memory on to later runs. Its frames must not be used any more.
func (r *Record) Release() { r.arena.release() }

// run is a run in progress.
type run struct {
	*System
	*state
	Record
	request Request
	planes  []plane
	parts   []excerpt // of each frame
	limit   int       // steps at most
	fall    float64   // share of the energy at which to stop
	watch   int       // frames whose energy decides when to stop
	gap     int       // frames between two that are compared
	most    float64   // largest energy so far

	convergent *convergent // nil if only the energy decides
}

// fallOfLong is the share of the energy at which a run ends that is long enough for smoothed levels:
// 30 dB down. What is left then weighs nothing in a mean over a window. See MEASURED.md of package wave.
const fallOfLong = 1e-3

// errGrows means a mistake in this package: no scene should cause it.
var errGrows = errors.New("the pressure grows without bound")

// Run marches from rest until the energy has fallen far enough, the time is over or ctx ends. It
// returns the error of ctx in the last case. The record takes its memory from the blocks. With an
// error it holds what was recorded so far.
func (s *System) Run(ctx context.Context, blocks *Blocks, q Request) (*Record, error) {
	r := s.newRun(blocks, q)
	err := r.march(ctx)
	return &r.Record, err
}

// newRun prepares a run.
func (s *System) newRun(blocks *Blocks, q Request) *run {
	r := &run{
		System: s, state: s.newState(), request: q,
		Record: Record{
			step: s.Step, pulse: newPulse(q.Highest, s.Cutoff(), s.Step), arena: arena{blocks: blocks},
			grid:  dispersion{air: s.Medium.Air, square: s.MeanSquare(), step: s.Step},
			every: max(1, int(1/(s.Step*RecordRate(q.Highest)))),
		},
		limit: int(q.Longest / s.Step), fall: 1 / q.Fall.Power(),
	}
	// Energy swings with the lowest modes, so look at two periods of the lowest frequency.
	r.watch = int(math.Ceil(2 / (q.Lowest * s.Step * float64(r.every))))
	r.gap = max(1, r.watch/8)
	source := s.sources(q.Source)
	for z := range s.N[2] {
		r.planes = append(r.planes, s.plane(z, source))
	}
	r.parts = excerpts(q.Cells)
	r.convergent = newConvergent(q.Convergence, &r.Record)
	return r
}

// march runs to the end.
func (r *run) march(ctx context.Context) error {
	now, next := r.now, r.next
	for n := 0; ; n++ {
		if n%r.every == 0 {
			if on, err := r.goesOn(ctx, n); err != nil || !on {
				return err
			}
			r.record(now)
			if r.convergent != nil {
				r.convergent.follow(r.Frames)
			}
		}
		r.flows(now, n)
		r.advance(next, now)
		r.finish(next, now, n)
		now, next = next, now
	}
}

// goesOn reports whether the run continues after step n.
func (r *run) goesOn(ctx context.Context, n int) (bool, error) {
	r.measure()
	done := r.done(n)
	if len(r.Frames)%32 == 0 {
		r.request.Progress.Report("solving the room", done)
	}
	if err := ctx.Err(); err != nil {
		return false, err
	}
	if math.IsNaN(r.most) || math.IsInf(r.most, 0) {
		return false, errGrows
	}
	r.Early = n >= r.limit && done < 1
	if r.convergent != nil && r.convergent.ready {
		r.Rest = r.convergent.rest
	}
	return done < 1 && !r.Early, nil
}

// measure notes the energy of the last frame: the sum of squared changes since a quarter of the
// longest period before. A pressure that only creeps, as rounding makes it do in a closed room,
// does not count.
func (r *run) measure() {
	last := len(r.Frames) - 1
	if last < r.gap {
		return
	}
	sum := change(r.Frames[last], r.Frames[last-r.gap])
	r.energy = append(r.energy, sum)
	r.most = max(r.most, sum)
}

// change returns the sum of squares of a - b, which have the same length. Four independent sums
// keep the processor busy.
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

// done returns how far the run has come at step n, 0..1. 1 is far enough.
func (r *run) done(n int) float64 {
	done := r.decayed(n)
	if r.convergent != nil {
		done = max(done, r.convergent.done())
	}
	return done
}

// decayed returns how far the energy has fallen at step n, 0..1 on a scale of decibels. 1 is far
// enough.
func (r *run) decayed(n int) float64 {
	last := len(r.energy)
	if n <= r.pulse.len+r.every || last < 2*r.watch {
		return 0
	}
	recent := slices.Max(r.energy[last-r.watch:])
	if r.most == 0 {
		return 1
	}
	seconds := float64(n)*r.Record.step - r.pulse.delay
	share := recent / r.most * math.Exp(-2*r.request.Loss*seconds)
	fall := r.fall
	if t := r.request.SettlingTime; t > 0 && seconds >= t {
		fall = max(fall, fallOfLong)
	}
	if share <= fall {
		return 1
	}
	return max(0, math.Log(share)/math.Log(fall))
}
