package wave

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave/draw"
	"evenbass/model/wave/march"
	"evenbass/model/wave/solver"
)

// Room is the engine of a room as built. Its fields answer for any place: a place that no run
// covers, such as inside a block, gets the answer of the nearest covered one. Runs go side by side,
// one on each core, and the latest are kept. It implements [model.LayoutEngine].
type Room struct {
	*solver.Engine
	drawing  *draw.Drawing
	options  Settings
	warnings []model.Warning
	*shared
}

var _ model.LayoutEngine = (*Room)(nil)

// shared is what all copies of a room share: the cores and the latest runs.
type shared struct {
	slots chan struct{} // one for each core

	mutex   sync.Mutex
	seats   []*seatRun
	layouts []*layoutEngine
}

// seatMemory is how much the runs of seats may take that a room keeps, bytes.
const seatMemory = 96 << 20

// usualSeats is how many of the latest seats a room keeps, if they take no more.
const usualSeats = 8

// layoutsKept is the number of layouts whose runs a room keeps, some 12 MB each.
const layoutsKept = 6

// NewRoom returns the engine of a room, drawn as [draw.Room] describes. The settings' zones are
// where sources may stand. Its errors are those of draw.Room and [solver.New].
func NewRoom(room *model.Room, e material.Estimate, grid model.Grid, s Settings) (*Room, error) {
	d, err := draw.Room(room, e, s.engine().WithDefaults(grid, room.Air()).Cell, s.Fits)
	if err != nil {
		return nil, err
	}
	return newRoom(d, grid, s)
}

// newRoom returns the engine of a drawing.
func newRoom(d *draw.Drawing, grid model.Grid, s Settings) (*Room, error) {
	if s.blocks == nil {
		s.blocks = new(march.Blocks)
	}
	engine, err := solver.New(d.Scene, grid, s.engine())
	if err != nil {
		return nil, err
	}
	return roomOf(engine, d, s), nil
}

func roomOf(engine *solver.Engine, d *draw.Drawing, s Settings) *Room {
	if grid, marks := engine.Grid(), s.MarkGrid; len(marks) > 0 && (marks[0] < grid[0] || marks[len(marks)-1] > grid[len(grid)-1]) {
		s.MarkGrid = nil
	}
	return &Room{
		Engine: engine, drawing: d, options: s,
		warnings: distinct(slices.Concat(d.Warnings, engine.Warnings())),
		shared:   &shared{slots: make(chan struct{}, runtime.GOMAXPROCS(0))},
	}
}

// distinct returns warnings without repetitions: each of a piece's many steps may have the same
// ones.
func distinct(warnings []model.Warning) []model.Warning {
	var list []model.Warning
	for _, w := range warnings {
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

// Warnings implements [model.Engine].
func (r *Room) Warnings() []model.Warning { return r.warnings }

// Same reports whether two engines solve the same scene, so that their fields are equal.
func (r *Room) Same(o *Room) bool { return reflect.DeepEqual(r.drawing.Scene, o.drawing.Scene) }

// Over returns the same room with sources in other zones; none means the whole room. It shares the
// cores and keeps its own runs. For the zones that the room has it returns the room itself. It returns an error
// if a run would need more memory than allowed, or if no zone holds any air.
func (r *Room) Over(zones []model.Block) (*Room, error) {
	if slices.Equal(zones, r.options.Zones) {
		return r, nil
	}
	o := *r
	o.Engine = r.Engine.Over(zones)
	if err := o.Check(); err != nil {
		return nil, err
	}
	o.options.Zones, o.shared = zones, &shared{slots: r.slots}
	return &o, nil
}

// On returns the same room over other frequencies, of which decays may be read, with sources in other zones;
// none means the whole room. It keeps its own runs, as many as a room does by default. Its errors are those of
// [NewRoom].
func (r *Room) On(grid model.Grid, zones []model.Block) (*Room, error) {
	converged := r.options.Convergence
	converged.Decays = true
	return r.on(grid, zones, r.options.SettlingTime, converged)
}

// Unsmoothed is [Room.On] for levels that are not smoothed: its runs go on until the energy has
// fallen as far as the settings say.
func (r *Room) Unsmoothed(grid model.Grid, zones []model.Block) (*Room, error) {
	return r.on(grid, zones, 0, Convergence{})
}

func (r *Room) on(grid model.Grid, zones []model.Block, settlingTime float64, c Convergence) (*Room, error) {
	engine, err := r.Engine.On(grid, zones, settlingTime)
	if err != nil {
		return nil, err
	}
	o := roomOf(engine.Converging(c), r.drawing, r.options)
	o.options.Zones, o.options.SettlingTime, o.options.Convergence = zones, settlingTime, c
	o.options.CachedSeats, o.shared.slots = 0, r.slots
	return o, nil
}

// OnlyLevels returns a room like this one off whose runs no decays are read. It keeps its own runs.
func (r *Room) OnlyLevels() *Room {
	c := r.options.Convergence
	c.Decays = false
	return r.converging(c)
}

// Whole returns a room like this one whose runs do not end when levels have converged, for recordings, which hold all
// that can be heard. It keeps its own runs.
func (r *Room) Whole() *Room { return r.converging(Convergence{}) }

func (r *Room) converging(c Convergence) *Room {
	o := roomOf(r.Engine.Converging(c), r.drawing, r.options)
	o.options.Convergence, o.shared.slots = c, r.slots
	return o
}

// As returns the engine of the same room with a variation, for the given zones; nil
// means those of the room. Its errors are those of [NewRoom]. It panics if a wall is
// beyond -1 and 1.
func (r *Room) As(v Variation, zones []model.Block) (*Room, error) {
	d, err := r.drawing.Varied(v.Walls, v.Resistivity)
	if err != nil {
		return nil, err
	}
	return r.drawn(d, zones)
}

// Absorbing returns the engine of the same room with one of the six walls, and everything that
// faces the same way, absorbing all sound at normal incidence (β = 1). It answers for the places of
// one layout.
func (r *Room) Absorbing(f model.Face, l model.Layout) (model.Engine, error) {
	return r.drawn(r.drawing.Absorbing(f), []model.Block{{Min: l.Left, Max: l.Left}, {Min: l.Right, Max: l.Right}})
}

// drawn returns the engine of another drawing, for the given zones; nil means those of the room.
func (r *Room) drawn(d *draw.Drawing, zones []model.Block) (*Room, error) {
	s := r.options
	if zones != nil {
		s.Zones = zones
	}
	return newRoom(d, r.Grid(), s)
}

// seatRun is the field of one seat over the room's zones, or over more.
type seatRun struct {
	seat   r3.Vec
	engine *solver.Engine
	once   sync.Once
	field  nearestField
	err    error
}

// Field implements [model.Engine]. It takes one run, unless the seat is one of the latest.
func (r *Room) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	return r.field(ctx, r.Engine, seat)
}

// field is Field with an engine that covers all that the room's own does.
func (r *Room) field(ctx context.Context, e *solver.Engine, seat r3.Vec) (nearestField, error) {
	return r.result(ctx, r.seatRun(e, seat))
}

// result returns the field of a run. It begins the run unless another caller has, and begins another if that
// caller is stopped.
func (r *Room) result(ctx context.Context, s *seatRun) (nearestField, error) {
	s.once.Do(func() { s.field, s.err = r.run(ctx, s.engine, s.seat) })
	if s.err == nil {
		return s.field, nil
	}
	r.forget(s, nil)
	if stoppedByAnother(ctx, s.err) {
		return r.field(ctx, s.engine, s.seat)
	}
	return nearestField{}, s.err
}

// stoppedByAnother reports whether a shared run failed because the context of the caller that began it ended,
// which is not this one.
func stoppedByAnother(ctx context.Context, err error) bool {
	return ctx.Err() == nil && (errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded))
}

// seatRun returns the kept run of a seat if it covers as much as the engine does, or a new one.
func (r *Room) seatRun(e *solver.Engine, seat r3.Vec) *seatRun {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	s := &seatRun{seat: seat, engine: e}
	if i := slices.IndexFunc(r.seats, func(k *seatRun) bool { return k.seat == seat }); i >= 0 {
		if known := r.seats[i]; e == r.Engine || known.engine.Covers(e) {
			s = known
		}
		r.seats = slices.Delete(r.seats, i, i+1)
	}
	r.seats = append(r.seats, s) // the latest one is dropped last
	r.seats = slices.Delete(r.seats, 0, len(r.seats)-r.keeps())
	return s
}

// keeps returns how many of the seats asked for are kept: the latest ones.
func (r *Room) keeps() int {
	most, bytes := min(cmp.Or(r.options.CachedSeats, usualSeats), len(r.seats)), 0
	for n := range most {
		bytes += r.seats[len(r.seats)-1-n].engine.FieldBytes()
		if bytes > seatMemory && n >= runtime.GOMAXPROCS(0) {
			return n // those at work are kept in any case
		}
	}
	return most
}

// KeptFields returns how much memory the fields of seats take at most that a room keeps, in bytes, if one
// takes so many.
func KeptFields(one float64) float64 {
	return max(min(usualSeats*one, seatMemory), float64(runtime.GOMAXPROCS(0))*one)
}

// forget drops failed runs, so that they are tried again when next needed. Either may be nil.
func (r *Room) forget(seat *seatRun, layout *layoutEngine) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.seats = slices.DeleteFunc(r.seats, func(s *seatRun) bool { return s == seat })
	r.layouts = slices.DeleteFunc(r.layouts, func(n *layoutEngine) bool { return n == layout })
}

// run waits for a free core and runs.
func (r *Room) run(ctx context.Context, e *solver.Engine, seat r3.Vec) (nearestField, error) {
	f, _, err := r.runTo(ctx, e, seat, seat, nil)
	return f, err
}

// runTo is run that also returns the transfer to one place over a grid of its own, see [solver.Engine.RunTo].
func (r *Room) runTo(ctx context.Context, e *solver.Engine, seat, to r3.Vec, grid model.Grid) (nearestField, []complex128, error) {
	select {
	case r.slots <- struct{}{}:
	case <-ctx.Done():
		return nearestField{}, nil, fmt.Errorf("wave: run stopped: %w", ctx.Err())
	}
	defer func() { <-r.slots }()
	f, transfer, err := e.RunTo(ctx, seat, to, grid)
	return nearestField{f}, transfer, err
}

// nearestField is a field that also answers for places beyond what it covers.
type nearestField struct{ *solver.Field }

// Transfer implements [model.Field].
func (f nearestField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	return f.Field.Transfer(dst, f.Nearest(source))
}
