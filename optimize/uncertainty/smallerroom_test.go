package uncertainty

import (
	"context"
	"fmt"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"
)

// strictRoom refuses a seat and panics at a source that is outside the box by anything at
// all, as the engines for boxes do.
type strictRoom struct{ *testroom.Cosine }

func (e strictRoom) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if !(&model.Box{Size: e.Size}).Contains(seat) {
		return nil, fmt.Errorf("the seat at %v is outside the room of %v", seat, e.Size)
	}
	f, err := e.Cosine.Field(ctx, seat)
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

// A sofa against the wall, and speakers that touch the right wall and the floor, are in
// rooms that turn out smaller than the tape said.
func TestRandomRoomsHoldWhatTouchesTheWalls(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	size := p.Room.Size
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats,
		model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: size.X, Y: 1.1, Z: 1}, Weight: 1},
		model.Seat{Name: "bed", Placed: true, At: r3.Vec{X: 1, Y: size.Y, Z: size.Z}, Weight: 1})
	r := &optimize.Result{Candidates: []score.Candidate{{Layout: model.Layout{
		Left: r3.Vec{X: 0.5, Y: 0.1}, Right: r3.Vec{X: 0.5, Y: size.Y}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2},
	}}}}
	_, err := Rank(context.Background(), p, r, Trials(20, 1), func(d Trial) (model.Engine, error) {
		return strictRoom{testroom.New(r3.Add(size, d.Size))}, nil
	})
	if err != nil {
		t.Error(err)
	}
}
