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
// for by the nearest that is covered. Runs go side by side, each on one core. It
// implements [model.LayoutEngine].
type Room struct {
	*Engine
	room  *model.Room
	slots chan struct{} // as many as there are cores

	mutex  sync.Mutex
	latest []*nearEngine
}

var _ model.LayoutEngine = (*Room)(nil)

// layoutsKept is how many layouts a room keeps the runs of: some 12 MB each.
const layoutsKept = 6

// NewRoom draws a room as it is built, see [RoomScene], and returns its engine. The
// settings' zones are where sources will be asked for. It fails as RoomScene and [New]
// do.
func NewRoom(room *model.Room, e material.Estimate, grid model.Grid, s Settings) (*Room, error) {
	s.Workers = 1
	scene, warnings, err := RoomScene(room, e, s.filled(grid, room.Air()).Cell)
	if err != nil {
		return nil, err
	}
	r, err := newRoom(room, scene, grid, s)
	if err != nil {
		return nil, err
	}
	r.medium.warnings = once(append(warnings, r.medium.warnings...))
	return r, nil
}

func newRoom(room *model.Room, scene Scene, grid model.Grid, s Settings) (*Room, error) {
	engine, err := New(scene, grid, s)
	if err != nil {
		return nil, err
	}
	return &Room{Engine: engine, room: room, slots: make(chan struct{}, runtime.GOMAXPROCS(0))}, nil
}

// Field implements [model.Engine]. It takes one run.
func (r *Room) Field(seat r3.Vec) (model.Field, error) { return r.run(r.Engine, seat) }

// run waits for a free core and runs.
func (r *Room) run(e *Engine, seat r3.Vec) (anywhere, error) {
	r.slots <- struct{}{}
	defer func() { <-r.slots }()
	f, err := e.Run(context.Background(), seat)
	return anywhere{f}, err
}

// about is how far from a mark [Room.Near] answers, m.
const about = 0.40

// Near implements [model.LayoutEngine] with three runs: from the seat, and from each
// speaker, which by reciprocity answers for all seats about the seat. The runs of the
// latest layouts are kept.
func (r *Room) Near(l model.Layout) (model.Engine, error) {
	n := r.near([3]r3.Vec{l.Seat, l.Left, l.Right})
	n.once.Do(n.run)
	if n.err != nil {
		return nil, n.err
	}
	return n, nil
}

// near returns what is kept for three marks, or is to be made.
func (r *Room) near(marks [3]r3.Vec) *nearEngine {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	for _, n := range r.latest {
		if n.marks == marks {
			return n
		}
	}
	n := &nearEngine{Room: r, marks: marks}
	r.latest = append(r.latest, n)
	r.latest = r.latest[max(0, len(r.latest)-layoutsKept):]
	return n
}

// nearEngine answers for one layout and what is off it by one mark.
type nearEngine struct {
	*Room
	marks  [3]r3.Vec // seat, left, right
	once   sync.Once
	fields [3]anywhere
	err    error
}

// run makes the three fields, each over the surroundings of all marks.
func (n *nearEngine) run() {
	e := *n.Engine
	e.settings.Zones = nil
	for _, m := range n.marks {
		d := r3.Vec{X: about, Y: about}
		e.settings.Zones = append(e.settings.Zones, model.Block{Min: r3.Sub(m, d), Max: r3.Add(m, d)})
	}
	e.record = e.medium.recorded(e.settings.Zones)
	var group sync.WaitGroup
	var errs [3]error
	for i, m := range n.marks {
		group.Go(func() { n.fields[i], errs[i] = n.Room.run(&e, m) })
	}
	group.Wait()
	for i, err := range errs {
		if err != nil && n.err == nil {
			n.err = fmt.Errorf("%s: %w", [3]string{"seat", "left speaker", "right speaker"}[i], err)
		}
	}
}

// Field implements [model.Engine].
func (n *nearEngine) Field(seat r3.Vec) (model.Field, error) {
	if alike(seat, n.marks[0]) {
		return n.fields[0], nil
	}
	return displaced{n, seat}, nil
}

// displaced is the field of a seat off the layout, read from the speakers' runs.
type displaced struct {
	n    *nearEngine
	seat r3.Vec
}

// Transfer implements [model.Field]. It panics unless the source is one of the
// layout's speakers.
func (d displaced) Transfer(dst []complex128, source r3.Vec) []complex128 {
	for i, m := range d.n.marks[1:] {
		if alike(source, m) {
			return d.n.fields[i+1].Transfer(dst, d.seat)
		}
	}
	panic(fmt.Sprintf("wave: seat %v and source %v are both off the layout", d.seat, source))
}

// alike reports whether two places are the same but for rounding.
func alike(a, b r3.Vec) bool { return r3.Norm2(r3.Sub(a, b)) < 1e-12 }

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
	s.Edges, s.Slopes = slices.Clone(s.Edges), slices.Clone(s.Slopes)
	for i := range s.Edges {
		if r.room.EdgeFace(i) == f {
			s.Edges[i] = open
		}
	}
	if f == model.Ceiling {
		for i := range s.Slopes {
			s.Slopes[i].Surface = open
		}
	}
	settings := r.settings
	settings.Zones = []model.Block{{Min: l.Left, Max: l.Left}, {Min: l.Right, Max: l.Right}}
	return newRoom(r.room, s, r.grid, settings)
}
