package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"sync/atomic"
	"testing"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
	"evenbass/optimize/testroom"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// offRoom is the tests' room with its sizes half a per cent off, as a coarse engine may
// have it: levels differ by tenths of a decibel.
func offRoom(size r3.Vec) *modal { return newModal(r3.Scale(1.005, size)) }

// At the seat about which a cheap engine was corrected it gives the dear one's answer,
// for any source; a few centimetres off, it is several times nearer than uncorrected.
func TestCorrected(t *testing.T) {
	t.Parallel()
	size := studio().Room.Size
	cheap, dear := offRoom(size), newModal(size)
	at := r3.Vec{X: 2.1, Y: 1.55, Z: 1.2}
	c, err := correct(t.Context(), cheap, dear, at)
	if err != nil {
		t.Fatal(err)
	}
	off := func(e model.Engine, seat, source r3.Vec) (sum float64) {
		got, err := e.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		want, err := dear.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		a, b := got.Transfer(nil, source), want.Transfer(nil, source)
		for i := range a {
			sum += cmplx.Abs(a[i] - b[i])
		}
		return sum
	}
	var with, without float64
	rapid.Check(t, func(t *rapid.T) {
		source := r3.Vec{X: rapid.Float64Range(0.3, 1.1).Draw(t, "x"), Y: rapid.Float64Range(0.3, 2.8).Draw(t, "y"), Z: 1}
		if d := off(c, at, source); d > 1e-6 {
			t.Fatalf("at the seat itself the answers differ by %v", d)
		}
		beside := at
		beside.X += rapid.SampledFrom([]float64{-0.05, 0.05}).Draw(t, "off")
		with += off(c, beside, source)
		without += off(cheap, beside, source)
	})
	if with > without/3 {
		t.Errorf("5 cm off, %v is left of a difference of %v", with, without)
	}
}

// A sofa's figures by a cheap engine that is set right where the sofa is marked are several
// times nearer to those of the dear engine than by the cheap one alone, and take one of its
// fields.
func TestCorrectedListeners(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	room := newModal(p.Room.Size)
	dear := &counting{Engine: room}
	banded := func(e model.Engine) *score.Band {
		b, err := score.NewBand(e, p.Goal)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	band := banded(dear)
	cheap, exact := score.SeatScorers(p, banded(offRoom(p.Room.Size))), score.SeatScorers(p, banded(room))
	h := &placing{Problem: pr, exact: band, listeners: cheap, corrected: concurrent.NewCache[r3.Vec, *score.Scorer](correctedMarks)}
	list, err := h.seatsAbout(t.Context(), model.Layout{})
	if err != nil {
		t.Fatal(err)
	}
	var with, without float64
	rapid.Check(t, func(t *rapid.T) {
		l := model.Layout{Left: r3.Vec{X: rapid.Float64Range(0.4, 1).Draw(t, "x"), Y: rapid.Float64Range(0.5, 0.9).Draw(t, "y"), Z: 1}}
		l.Right = r3.Vec{X: l.Left.X, Y: p.Room.Size.Y - l.Left.Y, Z: 1}
		var spread [3]float64
		for i, n := range []score.SeatScorer{exact[0], list[0], cheap[0]} {
			v, err := n.Counted(t.Context(), l)
			if err != nil {
				t.Fatal(err)
			}
			spread[i] = float64(v)
		}
		with += math.Abs(spread[1] - spread[0])
		without += math.Abs(spread[2] - spread[0])
	})
	if with > without/2 {
		t.Errorf("%v dB off in all, %v dB uncorrected", with, without)
	}
	if n := len(dear.asked); n != 1 {
		t.Errorf("%d seats of the dear engine", n)
	}
}

// A wide search by an engine that is a little off comes within 0.1 dB of the best that a
// search by the engine itself finds; each of its layouts is a local optimum by the engine
// itself, and has its figures.
func TestWideSearchFindsTheSame(t *testing.T) {
	t.Parallel()
	p := studio()
	room := newModal(p.Room.Size)
	s := Settings{Seed: 1}
	one := place(t, p, s)
	s.Wide = offRoom(p.Room.Size)
	two, err := Place(context.Background(), p, room, s)
	if err != nil {
		t.Fatal(err)
	}
	if d := float64(two.Candidates[0].Robust - one.Candidates[0].Robust); d > 0.1 {
		t.Errorf("the best is %.3f dB worse: %+v for %+v", d, two.Candidates[0].Layout, one.Candidates[0].Layout)
	}
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	exact := score.NewScorer(room, p, 0.05)
	for i, c := range two.Candidates {
		want, err := score.Evaluate(t.Context(), p, room, c.Layout, s.Displacement)
		if err != nil {
			t.Fatal(err)
		}
		want.Breaches = nil
		if d := cmp.Diff(want, c); d != "" {
			t.Errorf("layout %d: %s", i+1, d)
		}
		for _, n := range pr.Neighbours(c.Layout, 1) {
			if p.Violation(n) > 0 {
				continue
			}
			if v, err := exact.Robust(t.Context(), n); err != nil || v < c.Robust-table.Accuracy {
				t.Errorf("layout %d: %.3f dB, but %.3f dB at %+v (%v)", i+1, c.Robust, v, n, err)
			}
		}
	}
}

// If the wide engine is far off, the result says by how much.
func TestWideSearchSaysHowFarItWasOff(t *testing.T) {
	t.Parallel()
	p := small()
	s := brief
	s.Wide = newModal(r3.Scale(1.15, p.Room.Size))
	r, err := Place(context.Background(), p, newModal(p.Room.Size), s)
	if err != nil {
		t.Fatal(err)
	}
	if last, ok := r.Warnings[len(r.Warnings)-1].(model.SearchOff); !ok || last.Off < 1 {
		t.Errorf("warnings %v", r.Warnings)
	}
}

// stoppable is an engine that stops when its context ends, and may end it itself: stop says whether it has. A
// search passes a stop on to its engine a moment later, for which a field waits that is computed in no time.
type stoppable struct {
	model.Engine
	fields *atomic.Int64
	stop   func(asked int64) bool
}

func (b stoppable) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if b.stop(b.fields.Add(1)) {
		<-ctx.Done()
		return nil, ctx.Err()
	}
	return b.Engine.Field(ctx, seat)
}

// Stopped by hand after the wide search, the best layout comes back with the figures of
// the wide engine, and says so; the dear engine is not asked again. Stopped before, there
// is nothing.
func TestWideSearchCancelled(t *testing.T) {
	t.Parallel()
	p := small()
	room := newModal(p.Room.Size)
	ctx, cancel := context.WithCancel(context.Background())
	dear := stoppable{Engine: room, fields: new(atomic.Int64), stop: func(n int64) bool {
		if n == 2 {
			cancel()
		}
		return n == 2
	}}
	s := brief
	s.Wide = offRoom(p.Room.Size)
	r, err := Place(ctx, p, dear, s)
	if !errors.Is(err, context.Canceled) || r == nil {
		t.Fatalf("result %v, error %v", r, err)
	}
	want, err := score.Evaluate(t.Context(), p, s.Wide, r.Candidates[0].Layout, s.Displacement)
	if err != nil {
		t.Fatal(err)
	}
	if r.Stopped != search.Cancelled || len(r.Candidates) != 1 || math.Abs(float64(r.Candidates[0].Robust-want.Robust)) > 1e-9 {
		t.Errorf("stopped %q, %d layouts, %v dB, want %v dB", r.Stopped, len(r.Candidates), r.Candidates[0].Robust, want.Robust)
	}
	if last := fmt.Sprint(r.Warnings[len(r.Warnings)-1]); !strings.Contains(last, "figures are those of the coarse one") {
		t.Errorf("warnings %q", r.Warnings)
	}
	if n := dear.fields.Load(); n > 3 {
		t.Errorf("%d fields of the dear engine", n)
	}

	ctx, cancel = context.WithCancel(context.Background())
	s.Wide = stoppable{Engine: room, fields: new(atomic.Int64), stop: func(int64) bool { cancel(); return true }}
	if r, err := Place(ctx, p, room, s); r != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("stopped while listening: %v, %v", r, err)
	}
}

// An engine over other frequencies cannot search for another.
func TestWideEngineMustHaveTheGrid(t *testing.T) {
	t.Parallel()
	p := small()
	other := testroom.Over(model.NewGrid(25, 225, 12, 8), p.Room.Size)
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	_, _ = Place(context.Background(), p, newModal(p.Room.Size), Settings{Wide: other})
}
