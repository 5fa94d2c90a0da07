package score

import (
	"math"
	"testing"

	"evenbass/model"
	"evenbass/optimize/testroom"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A tolerance means what it says: at that radius none of eight directions costs
// more than 1 dB, and a centimetre further one does.
func TestToleranceMeansOneDecibel(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	s := NewScorer(e, p.Goal, 0.05, p.Room.Size)
	l := model.Layout{Left: r3.Vec{X: 0.71, Y: 1.04, Z: 0.98}, Right: r3.Vec{X: 0.71, Y: 2.06, Z: 0.98}, Seat: r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}}
	tol, err := s.Tolerance(l)
	if err != nil {
		t.Fatal(err)
	}
	base, err := s.Plain(l)
	if err != nil {
		t.Fatal(err)
	}
	worst := func(r float64) (most model.Level) {
		for i := range 8 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 4)
			m := l
			m.Seat = r3.Add(l.Seat, r3.Vec{X: r * cos, Y: r * sin})
			spread, err := s.Plain(m)
			if err != nil {
				t.Fatal(err)
			}
			most = max(most, spread-base)
		}
		return most
	}
	if tol.Seat <= 0 || tol.Seat >= toleranceLimit {
		t.Fatalf("tolerance of the seat is %v m: nothing to test", tol.Seat)
	}
	if in, out := worst(tol.Seat), worst(tol.Seat+0.01); in > 1 || out <= 1 {
		t.Errorf("at %v m the seat costs %.3f dB, 1 cm further %.3f dB", tol.Seat, in, out)
	}
}

// The radius of a disc is found to 4 mm, and cut at the limit.
func TestRadiusOfDisc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.Float64Range(0, 0.5).Draw(t, "radius")
		got, err := radius(func(d r3.Vec) (bool, error) { return r3.Norm(d) <= want, nil })
		if err != nil || got > min(want, toleranceLimit)+1e-4 || got < min(want, toleranceLimit)-0.0045 {
			t.Fatalf("radius %v, want %v (%v)", got, want, err)
		}
	})
}

// What stands now is evaluated even where it breaks rules, and says which.
func TestEvaluateTellsBreaches(t *testing.T) {
	p := testroom.Studio()
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1.2, Z: 0.98}, Right: r3.Vec{X: 0.7, Y: 1.9, Z: 0.98}, Seat: r3.Vec{X: 3.7, Y: 1.55, Z: 1.2}}
	c, err := Evaluate(p, testroom.New(p.Room.Size), l, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Breaches) == 0 || len(c.Pair.Left) != len(testroom.New(p.Room.Size).Grid()) || c.Robust <= 0 {
		t.Errorf("breaches %v, %d values, robust %v", c.Breaches, len(c.Pair.Left), c.Robust)
	}
}

// A seat outside the room is an error, not a figure.
func TestEvaluateOutside(t *testing.T) {
	p := testroom.Studio()
	if _, err := Evaluate(p, testroom.New(p.Room.Size), model.Layout{Seat: r3.Vec{X: 9}}, 0); err == nil {
		t.Error("a seat outside the room was evaluated")
	}
}
