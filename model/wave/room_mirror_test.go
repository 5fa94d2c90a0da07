package wave

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// roomTransfer runs a room and returns what arrives at a seat.
func roomTransfer(t *testing.T, r *model.Room, seat, source r3.Vec) []complex128 {
	t.Helper()
	e, err := NewRoom(r, material.Typical, model.NewGrid(30, 150, 12, 0), Settings{Cell: 0.15, Longest: 0.5, Zones: []model.Block{{Min: source, Max: source}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f.Transfer(nil, source)
}

// An outline that is the whole rectangle, or a slope at the ceiling or above it, changes
// nothing.
func TestOutlineOfABox(t *testing.T) {
	t.Parallel()
	seat, source := r3.Vec{X: 1.9, Y: 1, Z: 1.1}, r3.Vec{X: 0.5, Y: 0.9, Z: 0.9}
	want := roomTransfer(t, wavetest.Study(), seat, source)
	for name, change := range map[string]func(*model.Room){
		"outline": func(r *model.Room) { r.Outline = model.Polygon{{}, {Y: 2.4}, {X: 3, Y: 2.4}, {X: 3}} },
		"level": func(r *model.Room) {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2}, {X: 1, Z: 2}, {Y: 1, Z: 2}}}}
		},
		"slope": func(r *model.Room) {
			r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 2.3}, {X: 1, Z: 2.3}, {Y: 1, Z: 2.4}}}}
		},
	} {
		r := wavetest.Study()
		change(r)
		if d := wavetest.Difference(want, roomTransfer(t, r, seat, source)); d > 0.01 {
			t.Errorf("%s: differs by %v", name, d)
		}
	}
}

// A room and its mirror image sound alike: what is drawn on far walls is drawn as on
// near ones.
func TestMirroredRooms(t *testing.T) {
	t.Parallel()
	seat, source := r3.Vec{X: 1.9, Y: 1, Z: 1.1}, r3.Vec{X: 0.9, Y: 0.9, Z: 0.9}
	plain := wavetest.Study()
	plain.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 1.6}, {X: 2.2, Y: 2.4}, {Y: 2.4}}
	plain.Slopes = []model.Slope{{Through: [3]r3.Vec{{X: 3, Z: 1.4}, {X: 3, Y: 1, Z: 1.4}, {X: 2, Z: 2}}}}
	plain.Treatments = []model.Treatment{
		{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.4, To: 1.8}, Layers: []model.Layer{wavetest.Foil(), wavetest.Batt(0)}},
		{Patch: model.Patch{Face: model.Left, Along: 1.5, Width: 1, Height: 1.2}, Layers: []model.Layer{wavetest.Batt(0.3)}},
		{Form: model.UnderCeiling, Gap: 0.2, Box: model.Block{Min: r3.Vec{X: 0.6, Y: 0.3}, Max: r3.Vec{X: 1.4, Y: 1.2}}, Layers: []model.Layer{wavetest.Batt(0.15)}},
	}
	across := mirrored(plain, 1)
	want := roomTransfer(t, plain, seat, source)
	flip := func(v r3.Vec) r3.Vec { v.Y = 2.4 - v.Y; return v }
	if d := wavetest.Difference(want, roomTransfer(t, across, flip(seat), flip(source))); d > 1e-4 {
		t.Errorf("mirrored left to right: differs by %v", d)
	}
	along := mirrored(plain, 0)
	flip = func(v r3.Vec) r3.Vec { v.X = 3 - v.X; return v }
	if d := wavetest.Difference(want, roomTransfer(t, along, flip(seat), flip(source))); d > 1e-4 {
		t.Errorf("mirrored front to back: differs by %v", d)
	}
}

// mirrored returns a room turned over on axis 0 or 1.
func mirrored(r *model.Room, axis int) *model.Room {
	length := scene.Components(r.Size)[axis]
	at := func(v r3.Vec) r3.Vec {
		x := scene.Components(v)
		x[axis] = length - x[axis]
		return scene.Vec(x)
	}
	wall := func(f model.Face) model.Face {
		if f.Axis() == axis {
			return f ^ 1
		}
		return f
	}
	m := *r
	m.Outline, m.Slopes, m.Treatments = nil, nil, nil
	for _, c := range r.Outline {
		v := at(r3.Vec{X: c.X, Y: c.Y})
		m.Outline = append(m.Outline, r2.Vec{X: v.X, Y: v.Y})
	}
	for _, s := range r.Slopes {
		for i := range s.Through {
			s.Through[i] = at(s.Through[i])
		}
		m.Slopes = append(m.Slopes, s)
	}
	for _, t := range r.Treatments {
		t.Corner.Walls = [2]model.Face{wall(t.Corner.Walls[0]), wall(t.Corner.Walls[1])}
		a, b := scene.Components(at(t.Box.Min)), scene.Components(at(t.Box.Max))
		a[axis], b[axis] = min(a[axis], b[axis]), max(a[axis], b[axis])
		t.Box.Min, t.Box.Max = scene.Vec(a), scene.Vec(b)
		if t.Patch.Face.Axis() != axis && (axis == 0 || t.Patch.Face.Axis() == 0) {
			t.Patch.Along = length - t.Patch.Along - t.Patch.Width
		}
		t.Patch.Face = wall(t.Patch.Face)
		m.Treatments = append(m.Treatments, t)
	}
	return &m
}
