package optimize

import (
	"math"
	"math/rand"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// In the demo room, by its own engine, the circles about the marks hold for what stands now
// and for what a search finds for the chair: of forty places strewn evenly over a circle,
// one mark moved alone, none costs more than 1 dB of plain spread. A circle is found by
// what lies on eight rays a ring, and this asks between them and within: a twentieth of a decibel
// is left for that.
func TestToleranceHoldsWithinCircle(t *testing.T) {
	t.Parallel()
	pr, b := demoProblem(t)
	p := pr.Project
	s := score.NewScorer(b, p, 0.05)
	now, stands := p.Now()
	if !stands {
		t.Fatal("nothing stands in the demo room")
	}
	rng := rand.New(rand.NewSource(1))
	found := model.Layout{Left: r3.Vec{X: 0.83, Y: 1.08, Z: 1}, Right: r3.Vec{X: 0.83, Y: 2.2, Z: 1}, Seat: r3.Vec{X: 2.03, Y: 1.64, Z: 1.18}, AxisHeight: 1.12}
	if p.Violation(found) > 0 {
		t.Errorf("what a search found breaks rules: %v", p.Breaches(found))
	}
	for i, l := range []model.Layout{now, found} {
		name := [...]string{"now", "found"}[i]
		tol, err := s.Tolerance(t.Context(), l)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []struct {
			name   string
			radius float64
			moved  func(l model.Layout, by r3.Vec) model.Layout
		}{
			{"left", tol.Left, func(l model.Layout, by r3.Vec) model.Layout { l.Left = r3.Add(l.Left, by); return l }},
			{"right", tol.Right, func(l model.Layout, by r3.Vec) model.Layout { l.Right = r3.Add(l.Right, by); return l }},
			{"seat", tol.Seat, func(l model.Layout, by r3.Vec) model.Layout { l.Seat = r3.Add(l.Seat, by); return l }},
		} {
			worst := worstWithin(t, s, l, m.radius, rng, m.moved)
			t.Logf("%s, %s: %.3f m, at most %+.3f dB", name, m.name, m.radius, worst)
			if m.radius <= 0 || m.radius >= tol.Limit {
				t.Errorf("%s, %s: a circle of %v m says nothing", name, m.name, m.radius)
			}
			if worst > 1.05 {
				t.Errorf("%s, %s: within %v m the spread grows by %.2f dB", name, m.name, m.radius, worst)
			}
		}
	}
}

// worstWithin returns by how much the plain spread grows at most if one mark is moved to
// forty places drawn from a circle about it.
func worstWithin(t *testing.T, s *score.Scorer, l model.Layout, radius float64, rng *rand.Rand, moved func(model.Layout, r3.Vec) model.Layout) model.Level {
	t.Helper()
	base, err := s.Plain(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	worst := model.Level(math.Inf(-1))
	for range 40 {
		sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
		r := radius * math.Sqrt(rng.Float64())
		v, err := s.Plain(t.Context(), moved(l, r3.Vec{X: r * cos, Y: r * sin}))
		if err != nil {
			t.Fatal(err)
		}
		worst = max(worst, v-base)
	}
	return worst
}

// Layouts at random, whose spread has narrow spikes, are harder: of the circles about their
// left speakers none hides a place that costs more than half a decibel above the one that is
// allowed. With eight rays 5 cm apart one in six did, and 7 dB at the worst.
func TestToleranceHoldsAtRandom(t *testing.T) {
	t.Parallel()
	pr, b := demoProblem(t)
	s := score.NewScorer(b, pr.Project, 0.05)
	rng := rand.New(rand.NewSource(2))
	for range 20 {
		l := legalAtRandom(pr, rng.Float64)
		tol, err := s.Tolerance(t.Context(), l)
		if err != nil {
			t.Fatal(err)
		}
		left := func(l model.Layout, by r3.Vec) model.Layout { l.Left = r3.Add(l.Left, by); return l }
		if worst := worstWithin(t, s, l, tol.Left, rng, left); worst > 1.5 {
			t.Errorf("within %v m of the left speaker of %+v the spread grows by %.2f dB", tol.Left, l, worst)
		}
	}
}
