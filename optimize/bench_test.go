package optimize

import (
	"context"
	"math/rand"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode/modetest"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
	"evenbass/optimize/testroom"
)

// demo is the project's own demo room.
func demo(tb testing.TB) (*model.Project, model.Engine) {
	p := testroom.Read(tb, "spare-room")
	box, _, err := surface.Box(&p.Room, material.Typical)
	if err != nil {
		tb.Fatal(err)
	}
	e := modetest.Engine(tb, box, model.DefaultGrid())
	return p, e
}

// demoProblem is what a search in the demo room begins with.
func demoProblem(tb testing.TB) (*search.Problem, *score.Band) {
	p, e := demo(tb)
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		tb.Fatal(err)
	}
	pr, err := search.NewProblem(p)
	if err != nil {
		tb.Fatal(err)
	}
	return pr, b
}

// legalAtRandom draws layouts until no rule is broken.
func legalAtRandom(b *search.Problem, draw func() float64) model.Layout {
	for {
		if l := b.Random(draw); b.Project.Violation(l) == 0 {
			return l
		}
	}
}

func setUp(tb testing.TB) (*search.Problem, *score.Band, *table.Engine) {
	pr, b := demoProblem(tb)
	p := pr.Project
	t, err := table.Tabulate(context.Background(), b, pr.Domain(0.05, score.LeanDistance), p.Goal, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return pr, b, t
}

func BenchmarkTable(b *testing.B) {
	for b.Loop() {
		_, _, t := setUp(b)
		b.ReportMetric(float64(t.SeatsKept()), "seats-kept")
	}
}

func BenchmarkTransfer(b *testing.B) {
	pr, _, t := setUp(b)
	l := pr.Random(rand.New(rand.NewSource(1)).Float64)
	f, _ := t.Field(b.Context(), l.Seat)
	dst := f.Transfer(nil, l.Left)
	for b.Loop() {
		f.Transfer(dst, l.Left)
	}
}

// BenchmarkCandidate is one robust score of a layout nobody has seen before.
func BenchmarkCandidate(b *testing.B) {
	pr, _, t := setUp(b)
	pr.SeatPitch = 0.05 // as the search sets it
	s := score.NewScorer(t, pr.Project, 0.05)
	draw := rand.New(rand.NewSource(1)).Float64
	for b.Loop() {
		if _, err := s.Robust(b.Context(), pr.Random(draw)); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkPlace is a whole search in the demo room by the exact modal field.
func BenchmarkPlace(b *testing.B) {
	p, e := demo(b)
	for b.Loop() {
		r, err := Place(context.Background(), p, e, Settings{Seed: 1})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(r.Evaluations), "layouts")
	}
}
