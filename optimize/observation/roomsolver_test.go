package observation

import (
	"context"
	"math"
	"math/cmplx"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/calibration"
	"evenbass/model/response"
	"evenbass/model/trust"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
)

// alcoved is a small room with a chimney breast and a deep layer of wool: no plain box.
func alcoved() *model.Project {
	wall := func(name string) model.Surface { return model.Surface{Construction: name} }
	return &model.Project{
		Room: model.Room{
			Size:   r3.Vec{X: 2.6, Y: 2.0, Z: 2.2},
			Walls:  [6]model.Surface{wall("brick plastered"), wall("plasterboard on studs"), wall("plasterboard on studs"), wall("brick plastered"), wall("timber on joists"), wall("plasterboard on joists")},
			Blocks: []model.Block{{Name: "chimney breast", Max: r3.Vec{X: 0.3, Y: 0.7, Z: 2.2}}},
			Treatments: []model.Treatment{{
				Name: "rear layer", Form: model.OnWall, Patch: model.Patch{Face: model.Back, Along: 0.3, Width: 1.4, Height: 2},
				Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000, Density: 14}},
			}},
		},
		Speakers: model.Speakers{Placed: true, Left: r3.Vec{X: 0.65, Y: 0.5, Z: 1}, Right: r3.Vec{X: 0.6, Y: 1.5, Z: 1}},
		Seats:    []model.Seat{{Name: "chair", Placed: true, At: r3.Vec{X: 1.6, Y: 0.9, Z: 1.15}}},
		Goal:     model.Goal{From: 30, To: 200, Smoothing: 6},
	}
}

// calibrationCase is a room that is not as its file says, who measures it where, and a seat left out.
type calibrationCase struct {
	project    *model.Project
	truth      calibration.State
	cell       float64 // m, of the truth
	seats      int     // where it is measured
	microphone r3.Vec  // how far microphones are off, m
	leftOut    r3.Vec
}

// levels returns the levels at a place in a state, smoothed over 1/6 octave, both speakers together.
func (c calibrationCase) levels(t *testing.T, s *roomSolver, grid model.Grid, state calibration.State, at r3.Vec) []model.Level {
	t.Helper()
	room, err := s.Solve(context.Background(), grid, state)
	if err != nil {
		t.Fatal(err)
	}
	h, err := room.Responses(context.Background(), at, s.speakers)
	if err != nil {
		t.Fatal(err)
	}
	power := make([]float64, len(grid))
	for i := range power {
		power[i] = math.Pow(cmplx.Abs(h[0][i]+h[1][i]), 2)
	}
	var list []model.Level
	for _, p := range response.NewSmoother(grid, 6).Power(make([]float64, len(grid)), power) {
		list = append(list, model.PowerLevel(p))
	}
	return list
}

// apart returns the rms difference of two curves, their means aligned, dB.
func apart(a, b []model.Level) float64 {
	var sum, square float64
	for i := range a {
		d := float64(a[i] - b[i])
		sum, square = sum+d, square+d*d
	}
	n := float64(len(a))
	return math.Sqrt(square/n - sum*sum/n/n)
}

// measured is what the microphones give in the true room, 60 dB louder and 3 ms late.
func (c calibrationCase) measured(t *testing.T, s *roomSolver, grid model.Grid) []*measure.Measurement {
	t.Helper()
	room, err := s.Solve(context.Background(), grid, c.truth)
	if err != nil {
		t.Fatal(err)
	}
	var list []*measure.Measurement
	for _, seat := range c.project.Seats[:c.seats] {
		h, err := room.Responses(context.Background(), r3.Add(seat.At, c.microphone), s.speakers)
		if err != nil {
			t.Fatal(err)
		}
		for i, speaker := range []model.Source{model.LeftSpeaker, model.RightSpeaker} {
			m := &measure.Measurement{Name: seat.Name + " " + speaker.String(), Seat: seat.Name, Placed: true, At: seat.At, Speaker: speaker, Table: &measure.Table{Frequencies: grid}}
			for _, t := range c.project.Room.Treatments {
				m.State = append(m.State, t.Name)
			}
			m.StateKnown = true
			for k, f := range grid {
				v := h[i][k] * cmplx.Rect(1000, -2*math.Pi*f*0.003)
				m.Table.Levels = append(m.Table.Levels, model.LevelOf(cmplx.Abs(v)))
				m.Table.Phases = append(m.Table.Phases, cmplx.Phase(v))
			}
			list = append(list, m)
		}
	}
	return list
}

// run calibrates and returns the errors at the seat left out before and after.
func (c calibrationCase) run(t *testing.T) (before, after float64, r *calibration.Result) {
	t.Helper()
	grid := model.NewGrid(20, 225, 24, 2.5)
	places := []r3.Vec{c.leftOut}
	for _, s := range c.project.Seats {
		places = append(places, s.At)
	}
	speakers := [2]r3.Vec{c.project.Speakers.Left, c.project.Speakers.Right}
	is := newRoomSolver(&c.project.Room, 0, speakers, places)
	is.settings.Cell = c.cell
	r, err := Calibrate(context.Background(), c.project, c.measured(t, is, grid), nil)
	if err != nil {
		t.Fatal(err)
	}
	truth := c.levels(t, is, grid, c.truth, c.leftOut)
	says := newRoomSolver(&c.project.Room, 0, speakers, places)
	as := calibration.State{Resistivity: 1}
	before = apart(truth, c.levels(t, says, grid, as, c.leftOut))
	as.Walls = r.Walls
	return before, apart(truth, c.levels(t, says, grid, as, c.leftOut)), r
}

// unlikeWalls are walls that absorb other than is usual for their constructions.
func unlikeWalls(shift ...float64) (walls [6]model.WallFit) {
	for i, v := range shift {
		walls[i].Shift = model.Fitted{Value: v, Deviation: 1}
	}
	return walls
}

// TestCalibrateRoom holds a calibration of a room that is no box to a truth with other walls, denser wool
// and a microphone 4 cm off: the error at a seat where nobody measured is halved. With EVENBASS_LONG
// the truth is a larger room on finer cells, measured at two seats.
func TestCalibrateRoom(t *testing.T) {
	t.Parallel()
	c := calibrationCase{
		project: alcoved(), cell: engines.CoarseCell, seats: 1, microphone: r3.Vec{X: 0.03, Y: -0.03}, leftOut: r3.Vec{X: 1.8, Y: 1.4, Z: 1.2},
		truth: calibration.State{Walls: unlikeWalls(1, 1.2, 1, 0, -1, 1.3), Resistivity: 1.25},
	}
	if os.Getenv("EVENBASS_LONG") != "" {
		p := testroom.Read(t, "planned-room")
		p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.4, Y: 1.2, Z: 1.05}})
		c.project, c.cell, c.seats, c.leftOut = p, 0.1, 2, r3.Vec{X: 2.7, Y: 2.1, Z: 1.15}
	}
	before, after, r := c.run(t)
	t.Logf("at a seat left out: %.2f dB rms off before, %.2f after; resistivity %.2f ± %.2f of that in the file; mismatch %.2f", before, after, r.Resistivity.Value, r.Resistivity.Deviation, r.Mismatch)
	if os.Getenv("EVENBASS_LONG") != "" {
		trust.Seen(t, "`calibrate`, a treated room", "at a seat left out: levels %.1f dB rms off before and %.1f after; wool %.2f ± %.2f", before, after, r.Resistivity.Value, r.Resistivity.Deviation)
	}
	if r.Engine != model.WaveEngine || before < 0.5 || after > before/2 {
		t.Errorf("%v: %.2f dB before, %.2f after", r.Engine, before, after)
	}
	for i, f := range r.Calibration.Size {
		if r.SizeLearnt(i) || f.Value != 0 {
			t.Errorf("the size, which is not fitted, came out as %+v", f)
		}
	}
}
