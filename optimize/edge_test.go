package optimize

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"testing"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// strictRoom refuses a seat and panics at a source that is outside the box by anything at
// all, as the engines for boxes do.
type strictRoom struct{ *modal }

func (e strictRoom) Field(seat r3.Vec) (model.Field, error) {
	if !(&model.Box{Size: e.Size}).Contains(seat) {
		return nil, fmt.Errorf("the seat at %v is outside the room of %v", seat, e.Size)
	}
	f, err := e.modal.Field(seat)
	return strictField{f, e.Size}, err
}

type strictField struct {
	model.Field
	size r3.Vec
}

func (f strictField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	if !(&model.Box{Size: f.size}).Contains(source) {
		panic(fmt.Sprintf("the source at %v is outside the room of %v", source, f.size))
	}
	return f.Field.Transfer(dst, source)
}

// Whatever the room's size, a place moved into it is in it.
func TestInsideIsInside(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) r3.Vec {
			g := rapid.Float64Range(lo, hi)
			return r3.Vec{X: g.Draw(t, name), Y: g.Draw(t, name), Z: g.Draw(t, name)}
		}
		size := draw("size", 0.5, 9)
		if at := inside(draw("place", -1, 10), size); !(&model.Box{Size: size}).Contains(at) {
			t.Fatalf("%v is not in a room of %v", at, size)
		}
	})
}

// A sofa against the wall, and speakers that touch the right wall and the floor, are in
// rooms that turn out smaller than the tape said.
func TestRandomRoomsHoldWhatTouchesTheWalls(t *testing.T) {
	t.Parallel()
	p := small()
	size := p.Room.Size
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats,
		model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: size.X, Y: 1.1, Z: 1}, Weight: 1},
		model.Seat{Name: "bed", Placed: true, At: r3.Vec{X: 1, Y: size.Y, Z: size.Z}, Weight: 1})
	r := &Result{Candidates: []Candidate{{Layout: model.Layout{
		Left: r3.Vec{X: 0.5, Y: 0.1}, Right: r3.Vec{X: 0.5, Y: size.Y}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2},
	}}}}
	_, err := Stay(context.Background(), p, r, Draws(20, 1), func(d Draw) (model.Engine, error) {
		return strictRoom{newModal(r3.Add(size, d.Size))}, nil
	})
	if err != nil {
		t.Error(err)
	}
}

// With two seats that count, a wide search that is stopped, in whichever phase, comes back
// with the best of what it has found, by the wide engine where it got no further.
func TestTwoSeatSearchStopped(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	for _, phase := range []Phase{Breeding, Polishing, Refining, Finishing} {
		ctx, cancel := context.WithCancel(context.Background())
		s := brief
		never := func(int64) {}
		s.Wide = bindable{Engine: offRoom(p.Room.Size), fields: new(atomic.Int64), stop: never}
		s.Progress = func(done, _ int, at Phase) {
			if at == phase && done >= 2 {
				cancel()
			}
		}
		r, err := Place(ctx, p, bindable{Engine: newModal(p.Room.Size), fields: new(atomic.Int64), stop: never}, s)
		cancel()
		if !errors.Is(err, context.Canceled) || r == nil || r.Stopped != Cancelled || len(r.Candidates) == 0 {
			t.Fatalf("%s: result %+v, error %v", phase, r, err)
		}
		if c := r.Candidates[0]; p.Violation(c.Layout) > 0 || len(c.Seats) != 2 {
			t.Errorf("%s: best so far %+v, %d seats", phase, c.Layout, len(c.Seats))
		}
	}
}
