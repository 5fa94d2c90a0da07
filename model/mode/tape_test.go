package mode

import (
	"context"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// TestBeyondTheWall holds that a place beyond a wall, which the tape put further out than it is, is
// answered as one at the wall.
func TestBeyondTheWall(t *testing.T) {
	wall := model.Plain(0.05)
	box := model.Box{Size: r3.Vec{X: 3.97, Y: 3, Z: 2.4}, Tape: r3.Vec{X: 4, Y: 3, Z: 2.4}, Air: model.AirAt(293), Walls: [6]model.Boundary{wall, wall, wall, wall, wall, wall}}
	e, err := New(box, model.Grid{40, 63, 100}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	seat, beyond, at := r3.Vec{X: 1, Y: 1, Z: 1}, r3.Vec{X: 3.99, Y: 1.4, Z: 1}, r3.Vec{X: 3.97, Y: 1.4, Z: 1}
	from := func(seat r3.Vec) *Field {
		f, err := e.Field(context.Background(), seat)
		if err != nil {
			t.Fatal(err)
		}
		return f.(*Field)
	}
	want := from(seat).Transfer(nil, at)
	if !slices.Equal(from(seat).Transfer(nil, beyond), want) {
		t.Error("a source beyond the wall sounds otherwise than one at it")
	}
	if !slices.Equal(from(beyond).Transfer(nil, seat), from(at).Transfer(nil, seat)) {
		t.Error("a seat beyond the wall hears otherwise than one at it")
	}
	if !slices.Equal(from(seat).TransferGrid(nil, []float64{beyond.X}, []float64{beyond.Y}, []float64{beyond.Z}), from(seat).TransferGrid(nil, []float64{at.X}, []float64{at.Y}, []float64{at.Z})) {
		t.Error("a grid of sources beyond the wall sounds otherwise than one at it")
	}
	if _, err := e.Field(context.Background(), r3.Vec{X: 4.01, Y: 1, Z: 1}); err == nil {
		t.Error("a seat outside by tape is taken")
	}
}
