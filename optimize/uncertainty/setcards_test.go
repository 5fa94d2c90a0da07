package uncertainty

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode/modetest"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// In a box whose walls may be hard or soft the bounds hold what each engine says by itself, and
// the spread that was there before; hard walls ring longer than soft ones.
func TestSetCards(t *testing.T) {
	p := &model.Project{
		Room: model.Room{Size: r3.Vec{X: 4.3, Y: 3.3, Z: 2.45}},
		Goal: model.Goal{From: 30, To: 200, Smoothing: 12},
	}
	l := model.Layout{Left: r3.Vec{X: 0.6, Y: 1, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.3, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.65, Z: 1.2}}
	both := score.NewBothGrids(model.NewGrid(25, 220, 24, 0))
	engine := func(beta float64, grid model.Grid) model.Engine {
		box := model.Box{Size: p.Room.Size, Air: model.AirAt(0)}
		for i := range box.Walls {
			box.Walls[i] = model.Plain(complex(beta, 0))
		}
		e := modetest.Engine(t, box, grid)
		return e
	}
	candidate := func(beta float64) score.Candidate {
		c, err := score.Evaluate(t.Context(), p, engine(beta, both.LevelGrid), l, 0)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	solver := func(beta float64) *score.Solver {
		return &score.Solver{Engine: engine(beta, both.Grid), BothGrids: both}
	}
	c := candidate(0.02)
	if c.Walls.Given() || c.Card.Fall.Mean != 0 {
		t.Error("bounds and decays are given before they were looked at")
	}
	solvers := score.Solvers{Shown: solver(0.02), Hard: solver(0.005), Soft: solver(0.08)}
	if err := score.SetCards(t.Context(), p, solvers, response.Resolution{}, &c); err != nil {
		t.Fatal(err)
	}
	near := func(a, b model.Level) bool { return a-b < 1e-6 && b-a < 1e-6 }
	hard, soft := candidate(0.005), candidate(0.08)
	h, s := hard.Judgement.Spread(), soft.Judgement.Spread()
	if !near(c.Walls.Hard, h) || !near(c.Walls.Soft, s) {
		t.Errorf("bounds %v, want ±%v and ±%v", c.Walls, h, s)
	}
	low, high := c.Range()
	if u := c.Judgement.Spread(); !near(low, min(h, s, u)) || !near(high, max(h, s, u)) {
		t.Errorf("range %v to %v of ±%v, ±%v and ±%v", low, high, h, u, s)
	}
	if high-low < 1 {
		t.Errorf("walls from hard to soft change the spread by %v dB only", high-low)
	}
	ends := c.Card.Ends
	if ends[0].Spread != c.Card.Spread || !(ends[1].Fall.Mean > c.Card.Fall.Mean && c.Card.Fall.Mean > ends[2].Fall.Mean && ends[2].Fall.Mean > 0) {
		t.Errorf("falls with hard, typical and soft walls: %.3f, %.3f, %.3f s", ends[1].Fall.Mean, c.Card.Fall.Mean, ends[2].Fall.Mean)
	}
}

// Decays that are kept stand in for those of a field, which then is not asked for.
func TestSetCardsKept(t *testing.T) {
	t.Parallel()
	p := &model.Project{Room: model.Room{Size: r3.Vec{X: 4.3, Y: 3.3, Z: 2.45}}, Goal: model.Goal{From: 30, To: 200, Smoothing: 12}}
	l := model.Layout{Left: r3.Vec{X: 0.6, Y: 1, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.3, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.65, Z: 1.2}}
	both := score.NewBothGrids(model.NewGrid(20, 315, 24, 0))
	box := model.Box{Size: p.Room.Size, Air: model.AirAt(0)}
	for i := range box.Walls {
		box.Walls[i] = model.Plain(0.02)
	}
	solver := func() *score.Solver {
		return &score.Solver{Engine: modetest.Engine(t, box, both.Grid), BothGrids: both}
	}
	s := score.Solvers{Shown: solver(), Typical: solver(), Hard: solver(), Soft: solver()}
	var asked, kept score.Candidate
	asked.Layout, kept.Layout = l, l
	if err := score.SetCards(t.Context(), p, s, response.Resolution{}, &asked); err != nil {
		t.Fatal(err)
	}
	if asked.Card.Fall.Mean == 0 {
		t.Fatal("no decays to keep")
	}
	s.Shown.Engine = nil // a field asked for would panic
	s.Kept = func(of model.Layout) (response.Pair, bool) { return asked.OverDecays, of == l }
	if err := score.SetCards(t.Context(), p, s, response.Resolution{}, &kept); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(asked, kept); diff != "" {
		t.Errorf("with decays that are kept (-asked +kept):\n%s", diff)
	}
}

// A choice is firm only if it holds with hard, typical and soft walls.
func TestSetCardsOverWalls(t *testing.T) {
	candidate := func(hard, typical, soft model.Level) *score.Candidate {
		c := &score.Candidate{Walls: score.Bounds{Hard: hard, Soft: soft}}
		c.Judgement.Figures[0].Spread = typical
		return c
	}
	a, b, c := candidate(9, 7, 5), candidate(11, 8, 6), candidate(8, 9, 10)
	if !score.BetterThroughout(a, b) {
		t.Error("better with every kind of wall and not firm")
	}
	if score.BetterThroughout(b, a) || score.BetterThroughout(a, c) || score.BetterThroughout(a, new(score.Candidate)) {
		t.Error("worse with one kind of wall, or not looked at, and called firm")
	}
}
