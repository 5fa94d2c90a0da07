package score

import (
	"context"
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Steadiness is the plain mean of thirteen judgements, each made from scratch, with the worst of
// the four leans; the robust spread takes three quarters of one and a quarter of the other.
func TestSteadiness(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	s := NewScorer(e, p, 0.05)
	l := model.Layout{Left: r3.Vec{X: 0.5, Y: 0.8, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.2, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2}}
	var want Steadiness
	for mark := range 3 {
		off := []float64{0.05, 0.05, 0.10}[mark]
		for way, d := range []r3.Vec{{}, {X: -off}, {X: off}, {Y: -off}, {Y: off}} {
			if mark > 0 && way == 0 {
				continue
			}
			m := l
			at := []*r3.Vec{&m.Left, &m.Right, &m.Seat}[mark]
			*at = r3.Add(*at, d)
			pair, err := s.Pair(t.Context(), m)
			if err != nil {
				t.Fatal(err)
			}
			spread := reader.Judge(pair).Spread()
			want.Mean += spread / 13
			if mark == 2 && spread > want.Leaning {
				want.Leaning, want.Lean = spread, Lean(way)
			}
		}
	}
	got, err := s.Steadiness(t.Context(), l)
	if err != nil || got.Lean != want.Lean || math.Abs(float64(got.Mean-want.Mean)) > 1e-9 || math.Abs(float64(got.Leaning-want.Leaning)) > 1e-9 {
		t.Errorf("got %+v, want %+v (%v)", got, want, err)
	}
	robust, err := s.Robust(t.Context(), l)
	if math.Abs(float64(robust-(0.75*want.Mean+0.25*want.Leaning))) > 1e-9 || err != nil {
		t.Errorf("robust %v dB of %+v (%v)", robust, want, err)
	}
}

// Places given in inches are no whole tenths of a millimetre; an engine for one layout
// knows the marks as they are given.
func TestAroundKeepsThePlaceItself(t *testing.T) {
	s := &Scorer{Shift: 0.05, Size: r3.Vec{X: 4, Y: 3, Z: 2.5}}
	rapid.Check(t, func(t *rapid.T) {
		v := r3.Vec{X: rapid.Float64Range(0, 4).Draw(t, "x"), Y: rapid.Float64Range(0, 3).Draw(t, "y"), Z: 1.05}
		if got := s.Displaced(v); got[0] != v {
			t.Fatalf("the middle of %v is %v", v, got[0])
		}
	})
}

// No displacement goes through a wall.
func TestDisplacementsStayInside(t *testing.T) {
	s := Scorer{Shift: 0.05, Size: r3.Vec{X: 4, Y: 3, Z: 2}}
	for _, v := range s.Displaced(r3.Vec{X: 0.02, Y: 2.99, Z: 1}) {
		if v.X < 0 || v.Y > 3 {
			t.Errorf("displaced to %v", v)
		}
	}
}

// silent is an engine that hears nothing, so that no spread exists.
type silent struct{ *testroom.Cosine }

func (e silent) Field(_ context.Context, _ r3.Vec) (model.Field, error) {
	return silentField{len(e.Grid())}, nil
}

type silentField struct{ n int }

func (f silentField) Transfer(dst []complex128, _ r3.Vec) []complex128 {
	dst = model.Transfers(dst, f.n)
	clear(dst)
	return dst
}

func TestNoSpreadIsAnError(t *testing.T) {
	p := testroom.Studio()
	if _, err := Evaluate(t.Context(), p, silent{testroom.New(p.Room.Size)}, model.Layout{Seat: r3.Vec{X: 2}}, 0); err == nil {
		t.Error("a layout without any sound was given a spread")
	}
}
