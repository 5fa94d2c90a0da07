package roomfile

import (
	"strings"
	"testing"

	"evenbass/model"
)

// calibratedRoom is a file with comments, without a calibration.
const calibratedRoom = `# my room
room: {length: 4.2 m, width: 3.2 m, height: 240 cm} # by laser
walls:
  front: plasterboard on studs # the street is behind
  back: plasterboard on studs
  left: plasterboard on studs
  right: brick plastered
  floor: timber on joists
  ceiling: {impedance: 60}
speakers:
  box: {depth: 28 cm, width: 21 cm, height: 34 cm}
seats:
  - {name: chair, may_move: [{x: 1.3 m to 2.8 m}]} # the old one
`

// fittedCalibration is a calibration of all walls.
func fittedCalibration(p *model.Project) *model.Project {
	q := *p
	c := model.Calibration{From: []string{"before-left.txt", "before-right.txt"}, Seats: 1, Before: 2.41, After: 0.9,
		Size: [3]model.Fitted{{Value: -0.0123, Deviation: 0.0081}, {Value: 0.02, Deviation: 0.009}, {Value: 0, Deviation: 0.02}}}
	for i := range model.FittedFigures * (model.FittedFigures - 1) / 2 {
		c.Correlation = append(c.Correlation, float64(i%7-3)/20)
	}
	q.Room.Calibration = &c
	for i := range q.Room.Walls {
		q.Room.Walls[i].Fit = model.WallFit{Shift: model.Fitted{Value: float64(i) - 2.5, Deviation: 0.2}, Slope: model.Fitted{Value: -0.1, Deviation: 0.3}, Curve: model.Fitted{Value: 0.2, Deviation: 0.1}}
	}
	return &q
}

// TestCalibratedBlock holds that a calibration is added to an owner's file without touching the rest, reads
// back as it was, and turns with the room.
func TestCalibratedBlock(t *testing.T) {
	p, err := Read(strings.NewReader(calibratedRoom), "room.yaml")
	if err != nil {
		t.Fatal(err)
	}
	q := fittedCalibration(p)
	var b strings.Builder
	kept, err := Rewrite(&b, calibratedRoom, q)
	if err != nil || !kept || !strings.HasPrefix(b.String(), calibratedRoom) {
		t.Fatalf("the owner's text was not kept: %v %v\n%s", kept, err, b.String())
	}
	back, err := Read(strings.NewReader(b.String()), "room.yaml")
	if err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	if !alike(nodes(back), nodes(q)) || back.Room.Walls[model.Left].Fit != q.Room.Walls[model.Left].Fit || back.Room.TrueSize() != q.Room.TrueSize() {
		t.Errorf("read back another calibration:\n%s", b.String())
	}
	left := q.Facing(model.Left)
	if got, want := left.Room.Walls[model.Front].Fit, q.Room.Walls[model.Left].Fit; got != want {
		t.Errorf("the front wall of the turned room has %v, want the left wall's %v", got, want)
	}
	for _, c := range [][4]int{{int(model.Front), int(model.Ceiling), int(model.Left), int(model.Ceiling)}, {int(model.Back), 6, int(model.Right), 7}} {
		if got, want := left.Room.Calibration.Correlated(c[0], c[1]), q.Room.Calibration.Correlated(c[2], c[3]); got != want {
			t.Errorf("turned, %v are correlated by %v, want %v", c, got, want)
		}
	}
	if got := left.Room.Calibration.Size[0]; got != q.Room.Calibration.Size[1] {
		t.Errorf("turned, the length is %v, want the width's", got)
	}
	if whole := left.Facing(model.Right); !alike(nodes(whole), nodes(q)) {
		t.Error("a room turned there and back is another one")
	}
}

// TestCalibratedMistakes holds the block to strict reading.
func TestCalibratedMistakes(t *testing.T) {
	p, err := Read(strings.NewReader(calibratedRoom), "room.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if _, err := Rewrite(&b, calibratedRoom, fittedCalibration(p)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ old, new, want string }{
		{"right: brick plastered", "right: concrete block painted", `this was fitted to "brick plastered", and the wall is "concrete block painted" now`},
		{"shift: -2.5 ± 0.2", "shift: -2.5", "has no ± with what it may be off by"},
		{"shift: -2.5 ± 0.2", "shift: -2.5 ± 0", "nothing is uncertain"},
		{"shift: -2.5 ± 0.2", "shift: -25 ± 0.2", "must be -6 to 6"},
		{"before: 2.41 dB", "before: 2.41", "is not a level"},
		{"seats: 1\n", "seats: none\n", "is not a number from 1 to"},
		{"slope: -0.1 ± 0.3", "slop: -0.1 ± 0.3", "slop"},
		{"-0.15\n", "-1.5\n", "must be -1 to 1"},
	} {
		if !strings.Contains(b.String(), c.old) {
			t.Fatalf("the block has no %q:\n%s", c.old, b.String())
		}
		_, err := Read(strings.NewReader(strings.Replace(b.String(), c.old, c.new, 1)), "room.yaml")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: have %v, want %q", c.new, err, c.want)
		}
	}
}
