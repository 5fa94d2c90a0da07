package wave

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
)

// Room is the engine of a room as it is built. Unlike that of a bare scene, its fields
// answer for any place: one that no run covers, such as inside a block, is answered
// for by the nearest that is covered. Runs go side by side, each on one core, and the
// latest are kept. It implements [model.LayoutEngine].
type Room struct {
	*Engine
	room *model.Room
	ctx  context.Context // ends the runs; the room is bound to it, see WithContext
	*kept

	choices map[string]bool // see draft
}

var _ model.LayoutEngine = (*Room)(nil)

// kept is what all copies of a room share: the cores and the latest runs.
type kept struct {
	slots chan struct{} // as many as there are cores

	mutex  sync.Mutex
	seats  []*seatRun
	latest []*nearEngine
}

// layoutsKept is how many layouts a room keeps the runs of: some 12 MB each.
const layoutsKept = 6

// WithContext returns the same room, bound to a context: once that has ended, its runs
// stop with an error. What either has run, the other need not run again. It returns a
// *Room.
func (r *Room) WithContext(ctx context.Context) model.Engine {
	bound := *r
	bound.ctx = ctx
	return &bound
}

// NewRoom draws a room as it is built, see [RoomScene], and returns its engine. The
// settings' zones are where sources will be asked for. It fails as RoomScene and [New]
// do.
func NewRoom(room *model.Room, e material.Estimate, grid model.Grid, s Settings) (*Room, error) {
	d := newDraft(room, e, s.filled(grid, room.Air()).Cell, s.Fits)
	if err := d.draw(); err != nil {
		return nil, err
	}
	r, err := newRoom(room, d.scene, grid, s)
	if err != nil {
		return nil, err
	}
	r.choices = d.choices
	r.medium.warnings = once(slices.Concat(d.surfaces.Warnings(), d.doubts(), r.medium.warnings))
	return r, nil
}

func newRoom(room *model.Room, scene Scene, grid model.Grid, s Settings) (*Room, error) {
	engine, err := New(scene, grid, s)
	if err != nil {
		return nil, err
	}
	k := &kept{slots: make(chan struct{}, runtime.GOMAXPROCS(0))}
	return &Room{Engine: engine, room: room, ctx: context.Background(), kept: k}, nil
}

// Over returns the same room to be asked for sources in other zones; none means the whole
// room. It runs on the same cores, and keeps its own runs. It fails if a run would take more
// memory than allowed, or no zone holds any air.
func (r *Room) Over(zones []model.Block) (*Room, error) {
	e := r.Engine.over(zones)
	if err := e.settings.affords(e.scene.Size, e.grid); err != nil {
		return nil, err
	}
	if len(e.record) == 0 {
		return nil, errNoAir
	}
	return &Room{Engine: e, room: r.room, ctx: r.ctx, choices: r.choices, kept: &kept{slots: r.slots}}, nil
}

// over returns the same engine with records of other zones.
func (e *Engine) over(zones []model.Block) *Engine {
	o := *e
	o.settings.Zones, o.record = zones, e.medium.recorded(zones)
	return &o
}

// Context returns what the room is bound to.
func (r *Room) Context() context.Context { return r.ctx }

// seatRun is the field of one seat over the room's zones, or over more.
type seatRun struct {
	seat   r3.Vec
	engine *Engine
	once   sync.Once
	field  anywhere
	err    error
}

// Field implements [model.Engine]. It takes one run, unless the seat is one of the
// latest.
func (r *Room) Field(seat r3.Vec) (model.Field, error) { return r.field(r.Engine, seat) }

// field is Field by an engine that answers for all that the room's own does.
func (r *Room) field(e *Engine, seat r3.Vec) (anywhere, error) {
	s := r.seatRun(e, seat)
	s.once.Do(func() { s.field, s.err = r.run(s.engine, seat) })
	if s.err != nil {
		r.forget(s, nil)
	}
	return s.field, s.err
}

// seatRun returns what is kept for a seat, if it answers for as much as the engine does, or
// what is to be made.
func (r *Room) seatRun(e *Engine, seat r3.Vec) *seatRun {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	s := &seatRun{seat: seat, engine: e}
	if i := slices.IndexFunc(r.seats, func(k *seatRun) bool { return k.seat == seat }); i >= 0 {
		if known := r.seats[i]; e == r.Engine || within(e.record, known.engine.record) {
			s = known
		}
		r.seats = slices.Delete(r.seats, i, i+1)
	}
	r.seats = append(r.seats, s) // the last one asked for is the last to go
	if over := len(r.seats) - r.settings.Kept; over > 0 {
		r.seats = slices.Delete(r.seats, 0, over)
	}
	return s
}

// forget drops runs that failed, so that they are tried again when they are next asked
// for. Either may be nil.
func (r *Room) forget(seat *seatRun, layout *nearEngine) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	r.seats = slices.DeleteFunc(r.seats, func(s *seatRun) bool { return s == seat })
	r.latest = slices.DeleteFunc(r.latest, func(n *nearEngine) bool { return n == layout })
}

// run waits for a free core and runs.
func (r *Room) run(e *Engine, seat r3.Vec) (anywhere, error) {
	select {
	case r.slots <- struct{}{}:
	case <-r.ctx.Done():
		return anywhere{}, fmt.Errorf("wave: run stopped: %w", r.ctx.Err())
	}
	defer func() { <-r.slots }()
	f, err := e.Run(r.ctx, seat)
	return anywhere{f}, err
}

// anywhere is a field that answers for places beyond what it covers too.
type anywhere struct{ *Field }

// Transfer implements [model.Field].
func (f anywhere) Transfer(dst []complex128, source r3.Vec) []complex128 {
	return f.Field.Transfer(dst, f.nearestCovered(source))
}

// nearestCovered returns a place, or one as near to it as rings of a third of a cell
// can tell that the field covers. It panics if there is none in the room.
func (f anywhere) nearestCovered(p r3.Vec) r3.Vec {
	if f.Covers(p) {
		return p
	}
	pace := f.medium.h[0] / 3
	size := r3.Vec{X: float64(f.medium.n[0]) * f.medium.h[0], Y: float64(f.medium.n[1]) * f.medium.h[1], Z: float64(f.medium.n[2]) * f.medium.h[2]}
	p = r3.Vec{X: clamp(p.X, size.X), Y: clamp(p.Y, size.Y), Z: clamp(p.Z, size.Z)}
	for radius := 0.0; radius < r3.Norm(size); radius += pace {
		const directions = 16
		for _, tilt := range [...]float64{0, -1, 1} { // level first, then downwards
			for i := range directions {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / directions)
				q := r3.Add(p, r3.Scale(radius, r3.Unit(r3.Vec{X: cos, Y: sin, Z: tilt})))
				if f.Covers(q) {
					return q
				}
			}
		}
	}
	panic(fmt.Sprintf("wave: no answer was kept near %v", p))
}

func clamp(x, most float64) float64 { return max(0, min(x, most)) }

// Absorbing returns the engine of the same room with one of the six walls, and all that
// faces like it, made to swallow what meets it head on (β = 1). It answers for the
// places of one layout.
func (r *Room) Absorbing(f model.Face, l model.Layout) (model.Engine, error) {
	s := r.scene
	open := Resistive(1, s.Air)
	s.Walls[f] = open
	s.Patches = slices.DeleteFunc(slices.Clone(s.Patches), func(p Patch) bool { return p.Face == f })
	s.Insets = slices.DeleteFunc(slices.Clone(s.Insets), func(p Inset) bool { return model.FaceOf(p.Inward) == f })
	s.Edges, s.Slopes = slices.Clone(s.Edges), slices.Clone(s.Slopes)
	for i := range s.Edges {
		if r.room.EdgeFace(i) == f {
			s.Edges[i] = open
		}
	}
	s.Blocks = slices.Clone(s.Blocks)
	for i, b := range s.Blocks {
		if slices.Equal(b.Sides, []model.Face{f ^ 1}) { // layers that stand on the wall
			s.Blocks[i].Surface = open
		}
	}
	if f == model.Ceiling {
		for i := range s.Slopes {
			s.Slopes[i].Surface = open
		}
	}
	settings := r.settings
	settings.Zones = []model.Block{{Min: l.Left, Max: l.Left}, {Min: l.Right, Max: l.Right}}
	without, err := newRoom(r.room, s, r.grid, settings)
	if err != nil {
		return nil, err
	}
	without.ctx, without.blocks = r.ctx, r.blocks
	return without, nil
}
