package optimize

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode/modetest"

	"gonum.org/v1/gonum/spatial/r3"
)

// A prediction in the turned room is that of the room: the exact modal field between the
// same two places, walls of six kinds, in all four turns.
func TestTurnedRoomSoundsTheSame(t *testing.T) {
	t.Parallel()
	p := small()
	for i, ζ := range []complex128{40, 25 + 5i, 60, 15 - 3i, 80, 30} {
		p.Room.Walls[i] = model.Surface{Impedance: ζ}
	}
	grid := model.NewGrid(25, 200, 6, 0)
	heard := func(p *model.Project, source, seat r3.Vec) []complex128 {
		box, _, err := surface.Box(&p.Room, material.Typical)
		if err != nil {
			t.Fatal(err)
		}
		f := modetest.Field(t, box, grid, seat)
		return f.Transfer(nil, source)
	}
	source, seat := r3.Vec{X: 0.7, Y: 0.9, Z: 1}, r3.Vec{X: 2.1, Y: 2.2, Z: 1.2}
	for _, wall := range []model.Face{model.Left, model.Back, model.Right} {
		turned := p.Facing(wall)
		got := heard(turned, source, seat)
		want := heard(p, p.FromFacing(wall, source), p.FromFacing(wall, seat))
		for i := range want {
			if cmplx.Abs(got[i]-want[i]) > 1e-4*cmplx.Abs(want[i]) {
				t.Errorf("facing the %s at %.1f Hz: %v, want %v", wall.Wall(), grid[i], got[i], want[i])
			}
		}
	}
}

// turnedRoom is the tests' engine for a project.
func turnedRoom(p *model.Project) (model.Engine, Settings, error) {
	return newModal(p.Room.Size), brief, nil
}

// Facing the back wall of a room that is the same from both ends gives the same layout
// from that wall; where nothing fits, that is said.
func TestFacings(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.5, Max: 0.8}, Y: model.Range{Min: 0.5, Max: 2.6}}, {X: model.Range{Min: 3.4, Max: 3.7}, Y: model.Range{Min: 0.5, Max: 2.6}}}
	p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.5, Max: 2.7}, Y: model.Range{Min: 1.55, Max: 1.55}}}
	p.Listening.AlsoFace = []model.Face{model.Back, model.Left}
	p.Speakers.Placed, p.Speakers.Left, p.Speakers.Right = true, r3.Vec{X: 0.5, Y: 1, Z: 1}, r3.Vec{X: 0.5, Y: 2, Z: 1}
	front := place(t, p, brief).Candidates[0]
	list, err := Facings(context.Background(), p, turnedRoom)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 2 || list[0].Wall != model.Back || list[1].Wall != model.Left {
		t.Fatalf("%+v", list)
	}
	back := list[0]
	if math.Abs(float64(back.Best.Robust-front.Robust)) > 0.3 {
		t.Errorf("±%.2f dB from the back wall, ±%.2f from the front wall", back.Best.Robust, front.Robust)
	}
	l := back.Turned(p)
	if l.Left.Y < l.Right.Y || math.Abs(l.Left.X-(4.2-back.Best.Layout.Left.X)) > 1e-9 || l.Seat.X > l.Left.X {
		t.Errorf("in the room's own coordinates %+v", l)
	}
	if list[1].Best != nil || list[1].Failure == nil || len(list[1].Failure.Breaches) == 0 {
		t.Errorf("speakers along the length, seen from the middle: %+v", list[1])
	}
}

// An engine that fails, and a search that is stopped, are errors.
func TestFacingsFail(t *testing.T) {
	t.Parallel()
	p := small()
	p.Listening.AlsoFace = []model.Face{model.Back}
	broken := errors.New("no such room")
	if _, err := Facings(context.Background(), p, func(*model.Project) (model.Engine, Settings, error) { return nil, brief, broken }); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if list, err := Facings(ctx, p, turnedRoom); err == nil {
		t.Errorf("%v", list)
	}
}
