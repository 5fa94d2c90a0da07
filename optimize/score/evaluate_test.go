package score

import (
	"context"
	"errors"
	"math"
	"sync/atomic"
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
	s := NewScorer(e, p, 0.05)
	l := model.Layout{Left: r3.Vec{X: 0.71, Y: 1.04, Z: 0.98}, Right: r3.Vec{X: 0.71, Y: 2.06, Z: 0.98}, Seat: r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}}
	tol, err := s.Tolerance(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	base, err := s.Plain(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	worst := func(r float64) (most model.Level) {
		for i := range 8 {
			sin, cos := math.Sincos(float64(i) * math.Pi / 4)
			m := l
			m.Seat = r3.Add(l.Seat, r3.Vec{X: r * cos, Y: r * sin})
			spread, err := s.Plain(t.Context(), m)
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

// By hand: a growth in proportion to the radius reaches 1 dB - 0.5 dB/m · r at r = 1/(slope + 0.5). Nothing
// that grows less finds more than the limit.
func TestRadiusOfCone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slope := rapid.Float64Range(0, 200).Draw(t, "slope")
		got, err := radius(func(d r3.Vec) (model.Level, error) { return model.Level(slope * r3.Norm(d)), nil })
		if want := min(1/(slope+0.5), toleranceLimit); err != nil || math.Abs(got-want) > 1e-4 {
			t.Fatalf("radius %v, want %v (%v)", got, want, err)
		}
	})
}

// Two kernels of one engine differ by 1e-4 dB. No growth that differs by so much, whatever its humps,
// moves the radius by more than the 0.2 mm that the slope allows and 0.1 mm of rounding.
func TestRadiusIsSteady(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		heights := rapid.SliceOfN(rapid.Float64Range(-2, 0.8), 25, 25).Draw(t, "humps")
		noise := rapid.SliceOfN(rapid.Float64Range(-1e-4, 1e-4), 25, 25).Draw(t, "noise")
		ring, first := rapid.IntRange(1, 24).Draw(t, "hump that only just counts"), rapid.IntRange(1, 25).Draw(t, "first beyond doubt")
		heights[ring] = rapid.SampledFrom([]float64{1, 1 - 0.5*toleranceLimit/24*float64(ring)}).Draw(t, "its height")
		for i := first; i < len(heights); i++ {
			heights[i] = 1.5
		}
		at := func(d r3.Vec) int { return int(math.Round(r3.Norm(d) / toleranceLimit * 24)) }
		one, err := radius(func(d r3.Vec) (model.Level, error) { return model.Level(heights[at(d)]), nil })
		if err != nil {
			t.Fatal(err)
		}
		other, err := radius(func(d r3.Vec) (model.Level, error) { return model.Level(heights[at(d)] + noise[at(d)]), nil })
		if err != nil || math.Abs(other-one) > 3.1e-4 {
			t.Fatalf("radius %v m, and %v m where the growth is 1e-4 dB off (%v)", one, other, err)
		}
	})
}

// What stands now is evaluated even where it breaks rules, and says which.
func TestEvaluateTellsBreaches(t *testing.T) {
	p := testroom.Studio()
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1.2, Z: 0.98}, Right: r3.Vec{X: 0.7, Y: 1.9, Z: 0.98}, Seat: r3.Vec{X: 3.7, Y: 1.55, Z: 1.2}}
	c, err := Evaluate(t.Context(), p, testroom.New(p.Room.Size), l, 0)
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
	if _, err := Evaluate(t.Context(), p, testroom.New(p.Room.Size), model.Layout{Seat: r3.Vec{X: 9}}, 0); err == nil {
		t.Error("a seat outside the room was evaluated")
	}
}

var _ model.LayoutEngine = nearOnly{}

// nearOnly is an engine that answers only near a layout and the listeners it was given.
type nearOnly struct {
	model.Engine
	asked     *atomic.Int64
	listeners *atomic.Int64
}

func (c nearOnly) Field(_ context.Context, _ r3.Vec) (model.Field, error) {
	return nil, errors.New("no layout was given")
}

func (c nearOnly) Near(_ context.Context, _ model.Layout, listeners ...r3.Vec) (model.Engine, error) {
	c.asked.Add(1)
	c.listeners.Add(int64(len(listeners)))
	return c.Engine, nil
}

// An engine that answers near a layout only is given it once before anything is computed,
// with the five listeners of the sofa, and the figures are those of the engine near it.
func TestEvaluateGivesTheLayout(t *testing.T) {
	t.Parallel()
	p, e := testroom.ByModes(t)
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1, Z: 1}, Right: r3.Vec{X: 0.7, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.55, Z: 1.2}}
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.2, Y: 1.4, Z: 1}, Weight: 1})
	want, err := Evaluate(t.Context(), p, e, l, 0)
	if err != nil {
		t.Fatal(err)
	}
	asked, listeners := new(atomic.Int64), new(atomic.Int64)
	got, err := Evaluate(t.Context(), p, nearOnly{e, asked, listeners}, l, 0)
	if err != nil {
		t.Fatal(err)
	}
	if listeners.Load() != 5 || got.Score != want.Score {
		t.Errorf("given %d listeners, score %v, want %v", listeners.Load(), got.Score, want.Score)
	}
	if got.Robust != want.Robust || got.Tolerance != want.Tolerance || asked.Load() != 1 {
		t.Errorf("robust %v and tolerance %v, want %v and %v; asked %d times", got.Robust, got.Tolerance, want.Robust, want.Tolerance, asked.Load())
	}
}
