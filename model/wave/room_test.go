package wave

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// quick is a small room as an engine that takes a moment, of coarse cells.
func quick(t *testing.T, r *model.Room, zones ...model.Block) *Room {
	t.Helper()
	e, err := NewRoom(r, material.Typical, model.NewGrid(30, 150, 12, 0), Settings{Cell: 0.2, Zones: zones})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// What is asked about a layout is answered by three runs as every run by itself would
// answer it, whichever end is moved.
func TestNearAgreesWithRunsOfTheirOwn(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Blocks = []model.Block{{Name: "box", Min: r3.Vec{X: 2.4}, Max: r3.Vec{X: 3, Y: 0.5, Z: 1}}}
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 0.7, Z: 1}, Right: r3.Vec{X: 0.7, Y: 1.7, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.2, Z: 1.2}}
	e := quick(t, r)
	head := r3.Vec{X: 2.6, Y: 1.9, Z: 1}
	near, err := e.Near(t.Context(), l, head)
	if err != nil {
		t.Fatal(err)
	}
	moved := func(v r3.Vec, x, y float64) r3.Vec { return r3.Add(v, r3.Vec{X: x, Y: y}) }
	for _, c := range []struct {
		name         string
		seat, source r3.Vec
	}{
		{"in place", l.Seat, l.Right},
		{"speaker moved", l.Seat, moved(l.Left, 0.11, -0.27)},
		{"seat moved", moved(l.Seat, -0.2, 0.22), l.Left},
		{"seat moved the other way", moved(l.Seat, 0.3, 0), l.Right},
		{"another head", head, l.Left},
		{"seat rounded, speaker moved", moved(l.Seat, 5e-5, -5e-5), moved(l.Left, 0.05, 0)},
		{"seat moved, speaker rounded", moved(l.Seat, 0.05, 0), moved(l.Left, -5e-5, 5e-5)},
	} {
		f, err := near.Field(t.Context(), c.seat)
		if err != nil {
			t.Fatal(err)
		}
		own, err := e.Field(t.Context(), c.seat)
		if err != nil {
			t.Fatal(err)
		}
		if d := wavetest.Difference(own.Transfer(nil, c.source), f.Transfer(nil, c.source)); d > 0.005 {
			t.Errorf("%s: differs by %v of the greatest value", c.name, d)
		}
	}
	again, err := e.Near(t.Context(), l)
	if err != nil || again != near {
		t.Errorf("the runs of a layout were not kept: %v", err)
	}
	if other, err := e.Near(t.Context(), l, r3.Add(head, r3.Vec{X: 0.1})); err != nil || other == near {
		t.Errorf("the runs were kept for a head that they do not answer for: %v", err)
	}
}

// A room over other zones answers there as one that is drawn for them, and refuses what
// takes too much memory.
func TestOver(t *testing.T) {
	t.Parallel()
	here, there := r3.Vec{X: 0.7, Y: 0.7, Z: 1}, r3.Vec{X: 2.6, Y: 1.7, Z: 1.3}
	seat := r3.Vec{X: 1.9, Y: 1.2, Z: 1.2}
	e := quick(t, wavetest.Study(), model.Block{Min: here, Max: here})
	over, err := e.Over([]model.Block{{Min: there, Max: there}})
	if err != nil {
		t.Fatal(err)
	}
	got, err := over.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	want, err := quick(t, wavetest.Study(), model.Block{Min: there, Max: there}).Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	if f := got.(nearestField); !f.Covers(there) || f.Covers(here) {
		t.Errorf("covers: there %v, here %v", f.Covers(there), f.Covers(here))
	}
	if d := wavetest.Difference(want.Transfer(nil, there), got.Transfer(nil, there)); d > 1e-6 {
		t.Errorf("differs by %v of the greatest value", d)
	}
	small, err := NewRoom(wavetest.Study(), material.Typical, model.NewGrid(30, 150, 12, 0), Settings{Cell: 0.2, Zones: wavetest.Around(here), Memory: 4 << 20})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := small.Over(nil); !errors.Is(err, solver.ErrTooLarge) {
		t.Errorf("the whole room in 4 MB: %v", err)
	}
}

// A room keeps the runs of the seats that were asked for last.
func TestRoomKeepsTheLatestSeats(t *testing.T) {
	t.Parallel()
	e, err := NewRoom(wavetest.Study(), material.Typical, model.NewGrid(30, 150, 12, 0), Settings{Cell: 0.25, Longest: 0.1, CachedSeats: 2})
	if err != nil {
		t.Fatal(err)
	}
	seats := [3]r3.Vec{{X: 1.9, Y: 1.2, Z: 1.2}, {X: 2.1, Y: 1.2, Z: 1.2}, {X: 2.3, Y: 1.2, Z: 1.2}}
	var runs [3]model.Field
	for _, n := range []int{0, 1, 0, 2, 0, 1} {
		f, err := e.Field(t.Context(), seats[n])
		if err != nil {
			t.Fatal(err)
		}
		if kept := f == runs[n]; runs[n] != nil && kept != (n == 0) {
			t.Errorf("seat %d: kept %v", n, kept)
		}
		runs[n] = f
	}
}

func TestNearPanicsOffTheLayout(t *testing.T) {
	t.Parallel()
	defer func() {
		if r := recover(); r == nil || !strings.Contains(r.(string), "both off the layout") {
			t.Errorf("recovered %v", r)
		}
	}()
	n := &layoutEngine{marks: [3]r3.Vec{{X: 1}, {X: 2}, {X: 3}}}
	f, _ := n.Field(t.Context(), r3.Vec{X: 1.1})
	f.Transfer(nil, r3.Vec{X: 2.1})
}

// A place in a block, in a notch or behind a wall is answered for by one nearby.
func TestFieldsAnswerAnywhere(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 1.5}, {X: 2, Y: 1.5}, {X: 2, Y: 2.4}, {Y: 2.4}}
	r.Blocks = []model.Block{{Min: r3.Vec{X: 0.9, Y: 0.9}, Max: r3.Vec{X: 1.5, Y: 1.5, Z: 2}}}
	f, err := quick(t, r).Field(t.Context(), r3.Vec{X: 2.4, Y: 0.7, Z: 1})
	if err != nil {
		t.Fatal(err)
	}
	got := f.(nearestField)
	for _, c := range []struct {
		at   r3.Vec
		most float64 // how far off the answer may come from, m
	}{
		{r3.Vec{X: 0.5, Y: 0.5, Z: 1}, 0},
		{r3.Vec{X: 1.2, Y: 1.2, Z: 1}, 0.75}, // a cell and more is needed in front of the block
		{r3.Vec{X: 2.2, Y: 1.8, Z: 1}, 0.75},
		{r3.Vec{X: -0.1, Y: 0.4, Z: 1}, 0.1},
	} {
		near := got.Nearest(c.at)
		if d := r3.Norm(r3.Sub(near, c.at)); d > c.most+1e-9 {
			t.Errorf("%v is answered for from %v, %.2f m off", c.at, near, d)
		}
		if d := wavetest.Difference(got.Transfer(nil, c.at), got.Field.Transfer(nil, near)); d != 0 {
			t.Errorf("%v: differs by %v from the answer at %v", c.at, d, near)
		}
	}
}

// A wall made absorbing takes all that faces like it along, and the room dies away
// faster.
func TestAbsorbingWall(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Outline = model.Polygon{{}, {X: 3}, {X: 3, Y: 1.5}, {X: 2, Y: 1.5}, {X: 2, Y: 2.4}, {Y: 2.4}}
	r.Openings = []model.Opening{{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 0.2, Width: 0.8, Height: 1.9}, Surface: model.Surface{Construction: "solid door"}}}
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 0.7, Z: 1}, Right: r3.Vec{X: 0.7, Y: 1.7, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.2, Z: 1.2}}
	e := quick(t, r, model.Block{Min: l.Left, Max: l.Right})
	open, err := e.Absorbing(model.Back, l)
	if err != nil {
		t.Fatal(err)
	}
	s := open.(*Room).drawing.Scene
	for i, want := range []bool{false, true, false, true, false, false} {
		if got := len(s.Edges[i].List) == 1 && s.Edges[i].Admittance(100) == 1; got != want {
			t.Errorf("edge %d swallows: %v", i, got)
		}
	}
	if len(s.Patches) != 0 || s.Walls[model.Back].Admittance(100) != 1 {
		t.Errorf("the back wall is %v with %d patches", s.Walls[model.Back], len(s.Patches))
	}
	if len(e.drawing.Scene.Patches) != 1 || e.drawing.Scene.Edges[1].Admittance(100) == 1 {
		t.Error("the room itself has changed")
	}
	seconds := func(e model.Engine) float64 {
		f, err := e.Field(t.Context(), l.Seat)
		if err != nil {
			t.Fatal(err)
		}
		return f.(nearestField).Seconds()
	}
	if with, without := seconds(e), seconds(open); !(without < with) {
		t.Errorf("runs last %v s with the wall and %v s without", with, without)
	}
}

// Whoever waits for a run that another began is not stopped with the other.
func TestRunOutlivesAnother(t *testing.T) {
	t.Parallel()
	e := quick(t, wavetest.Study())
	for range cap(e.slots) {
		e.slots <- struct{}{}
	}
	seat := r3.Vec{X: 1.5, Y: 1, Z: 1}
	first, cancel := context.WithCancel(t.Context())
	begun, stopped := make(chan struct{}), make(chan error)
	go func() {
		_, err := e.Field(signalled{first, begun}, seat)
		stopped <- err
	}()
	<-begun
	second := e.seatRun(e.Engine, seat)
	cancel()
	if err := <-stopped; !errors.Is(err, context.Canceled) || !errors.Is(second.err, context.Canceled) {
		t.Fatalf("the first caller's error is %v, the run's %v", err, second.err)
	}
	<-e.slots
	if f, err := e.result(t.Context(), second); err != nil || !f.Covers(seat) {
		t.Errorf("the second caller gets %v", err)
	}
}

// signalled is a context that closes a channel when someone first waits for its end.
type signalled struct {
	context.Context
	waited chan struct{}
}

func (s signalled) Done() <-chan struct{} {
	select {
	case <-s.waited:
	default:
		close(s.waited)
	}
	return s.Context.Done()
}

func TestNewRoomRefuses(t *testing.T) {
	t.Parallel()
	_, err := NewRoom(wavetest.Study(), material.Typical, model.DefaultGrid(), Settings{Memory: 1 << 20})
	if !errors.Is(err, solver.ErrTooLarge) {
		t.Errorf("error %v, want too large", err)
	}
	e := quick(t, wavetest.Study())
	if _, err := e.Near(t.Context(), model.Layout{Seat: r3.Vec{X: 9}}); err == nil || !strings.Contains(err.Error(), "seat") {
		t.Errorf("a seat outside gives %v", err)
	}
}

// Each warning about the materials and about the drawing appears once.
func TestWarningsOnce(t *testing.T) {
	t.Parallel()
	r := wavetest.Study()
	r.Treatments = []model.Treatment{{
		Name: "filled corner", Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.9, To: 2},
		Layers: []model.Layer{{Kind: model.PorousLayer, Resistivity: 80e3}},
	}}
	seen := map[model.Warning]bool{}
	dense := false
	for _, w := range quick(t, r).Warnings() {
		if seen[w] {
			t.Errorf("said twice: %s", w)
		}
		seen[w] = true
		dense = dense || strings.HasPrefix(fmt.Sprintf("%T%v", w, w), "model.DenseForCells{filled corner")
	}
	if !dense {
		t.Errorf("nothing is said of the dense fill: %v", seen)
	}
}
