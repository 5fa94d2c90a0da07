package uncertainty

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/optimize"
	"evenbass/optimize/score"
)

// In a box whose walls may be hard or soft the bounds hold what each engine says
// by itself, and the spread that was there before.
func TestSetBounds(t *testing.T) {
	p := &model.Project{
		Room: model.Room{Size: r3.Vec{X: 4.3, Y: 3.3, Z: 2.45}},
		Goal: model.Goal{From: 30, To: 200, Smoothing: 12},
	}
	l := model.Layout{Left: r3.Vec{X: 0.6, Y: 1, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.3, Z: 1}, Seat: r3.Vec{X: 1.9, Y: 1.65, Z: 1.2}}
	engine := func(beta float64) model.Engine {
		box := model.Box{Size: p.Room.Size, Air: model.AirAt(0)}
		for i := range box.Walls {
			box.Walls[i] = model.Plain(complex(beta, 0))
		}
		e, err := mode.New(box, model.NewGrid(25, 220, 24, 0), mode.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	spread := func(e model.Engine) score.Candidate {
		c, err := score.Evaluate(t.Context(), p, e, l, 0)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	hard, usual, soft := engine(0.005), engine(0.02), engine(0.08)
	c := spread(usual)
	if c.Walls.Given() {
		t.Error("bounds are given before they were looked at")
	}
	if err := optimize.SetBounds(t.Context(), p, nil, hard, soft, &c); err != nil {
		t.Fatal(err)
	}
	near := func(a, b model.Level) bool { return a-b < 1e-9 && b-a < 1e-9 }
	h, s := spread(hard).Judgement.Spread(), spread(soft).Judgement.Spread()
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
}

// A choice is firm only if it holds with hard, typical and soft walls.
func TestFirm(t *testing.T) {
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
