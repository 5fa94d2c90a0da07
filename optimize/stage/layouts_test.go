package stage

import (
	"math"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// A plan with more layouts to choose from begins with the one that does best before anything is
// built, and ends no worse than one that has to stay.
func TestPlanMovesPairAndSeat(t *testing.T) {
	t.Parallel()
	p := stocked(t, 8)
	stay, err := planner(t, p).Plan(t.Context(), Settings{Tries: 4, Swaps: 2})
	if err != nil {
		t.Fatal(err)
	}
	if stay.Start != stay.Now || stay.Layout != stay.Now.Layout {
		t.Error("without other layouts pair and seat move")
	}
	other := stay.Layout
	other.Left.X, other.Right.X, other.Seat.X = other.Left.X+0.25, other.Right.X+0.25, other.Seat.X-0.35
	l, err := NewPlanner(p, model.DefaultGrid(), byFewModes)
	if err != nil {
		t.Fatal(err)
	}
	l.MayMove(other)
	moves, err := l.Plan(t.Context(), Settings{Tries: 4, Swaps: 2})
	if err != nil {
		t.Fatal(err)
	}
	there, err := l.state(t.Context(), nil, 1, rough)
	if err != nil {
		t.Fatal(err)
	}
	gains := moves.Now.Score()-there.Score() > moveGain
	if moved := moves.Start.Layout == other; moved != gains {
		t.Errorf("the other layout scores %.2f dB against %.2f dB now; moved: %v", there.Score(), moves.Now.Score(), moved)
	}
	if gains && moves.End().Score() > stay.End().Score()+moveGain {
		t.Errorf("ends at %.2f dB, staying at %.2f dB", moves.End().Score(), stay.End().Score())
	}
	t.Logf("now %.2f, other %.2f; staying %.2f, moving %.2f dB", moves.Now.Score(), there.Score(), stay.End().Score(), moves.End().Score())
}

// A layout 4 dB behind is not tried with one piece more, which may change the difference by 3 dB, but with
// two; one 1 dB behind with the next piece, and any when fewer pieces are built than before.
func TestLayoutsFarBehindWait(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lag    float64
		pieces int
		want   bool
	}{{4, 2, true}, {4, 3, true}, {4, 4, false}, {1, 2, false}, {1, 3, false}, {4, 1, false}, {0, 2, false}} {
		if got := (behind{pieces: 2, lag: c.lag}).waits(c.pieces); got != c.want {
			t.Errorf("%g dB behind with 2 pieces: waits with %d: %v", c.lag, c.pieces, got)
		}
	}
}

// Only a sketch ranks pieces on the coarsest cells; the other seats of states that compare are always read
// on them, and what is shown never.
func TestAccuracies(t *testing.T) {
	t.Parallel()
	count := func(couch float64, s Settings) (n [3]int) {
		p := stocked(t, 6)
		if couch > 0 {
			p.Seats = append(p.Seats[:1:1], model.Seat{Name: "couch", Placed: true, At: r3.Vec{X: 3.4, Y: 1.2, Z: 1}, Weight: couch})
		}
		var mutex sync.Mutex
		l, err := NewPlanner(p, model.DefaultGrid(), func(p *model.Project, grid model.Grid, places []model.Block, a Accuracy) (model.Engine, error) {
			mutex.Lock()
			defer mutex.Unlock()
			n[a]++
			return byFewModes(p, grid, places, a)
		})
		if err != nil {
			t.Fatal(err)
		}
		plan, err := l.Plan(t.Context(), s)
		if err != nil {
			t.Fatal(err)
		}
		shown := map[*State]bool{plan.Now: true, plan.Start: true, plan.Rule.After: true}
		for _, s := range plan.Stages {
			shown[s.After] = true
		}
		if plan.Rest != nil {
			shown[plan.Rest.After] = true
		}
		if n[Shown] < len(shown) {
			t.Errorf("%d exact engines for %d states shown", n[Shown], len(shown))
		}
		if c, err := l.Compared(t.Context(), nil, plan.Start.Layout); err != nil || c == plan.Start || c.Layout != plan.Start.Layout {
			t.Errorf("the room now, as compared: %v, %v", c, err)
		}
		return n
	}
	pieces := planner(t, stocked(t, 6)).pieces
	if n := count(0, Settings{}); n[Ranked] > 0 || n[Compared] < len(pieces) {
		t.Errorf("engines by accuracy %v for %d pieces", n, len(pieces))
	}
	if n := count(0, Settings{Sketch: true}); n[Ranked] == 0 || n[Ranked] > len(pieces)+1 {
		t.Errorf("of a sketch engines by accuracy %v for %d pieces", n, len(pieces))
	}
	if n := count(0.25, Settings{}); n[Ranked] == 0 || n[Ranked] >= n[Compared] {
		t.Errorf("with a couch engines by accuracy %v", n)
	}
}

// A state scores all seats by their weights; a screening one knows the main seat alone.
func TestStateOfAllSeats(t *testing.T) {
	t.Parallel()
	p := stocked(t, 4)
	p.Seats = append(p.Seats[:1:1], model.Seat{Name: "couch", Placed: true, At: r3.Vec{X: 3.4, Y: 1.2, Z: 1}, Weight: 0.25})
	l := planner(t, p)
	all, err := l.state(t.Context(), nil, 0, fine)
	if err != nil {
		t.Fatal(err)
	}
	alone, err := l.state(t.Context(), nil, 0, screening)
	if err != nil {
		t.Fatal(err)
	}
	if len(all.Seats) != 2 || all.Between <= 0 || len(alone.Seats) != 0 {
		t.Fatalf("%d seats that differ by %v dB, %d when screening", len(all.Seats), all.Between, len(alone.Seats))
	}
	want := 0.8*float64(all.Robust-all.Seats[1].Counted) + float64(all.Seats[1].Counted) - float64(alone.Robust)
	if got := all.Score() - alone.Score(); math.Abs(got-want) > 1e-9 {
		t.Errorf("the couch changes the score by %.3f dB, want %.3f dB", got, want)
	}
}

// Each seat keeps the way to a door that it has: a panel across the room is refused where it closes
// the only passage, and allowed beside a passage of 80 cm or above one's head.
func TestWaysStayOpen(t *testing.T) {
	t.Parallel()
	p := &model.Project{
		Room: model.Room{
			Size:     r3.Vec{X: 4, Y: 3, Z: 2.4},
			Openings: []model.Opening{{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 1, Width: 0.8, Height: 2}}},
		},
		Seats: []model.Seat{{Name: "chair"}},
	}
	w := newWays(p, model.Layout{Seat: r3.Vec{X: 1.5, Y: 1.5, Z: 1.2}})
	if !slices.Equal(w.width, []float64{wayWidth}) {
		t.Fatalf("ways are %v m wide in the empty room", w.width)
	}
	panel := func(y0, y1, z0 float64) []model.Block {
		return []model.Block{{Min: r3.Vec{X: 2.5, Y: y0, Z: z0}, Max: r3.Vec{X: 2.7, Y: y1, Z: 2.4}}}
	}
	for _, c := range []struct {
		name string
		more []model.Block
		want bool
	}{
		{"nothing", nil, true},
		{"right across", panel(0, 3, 0), false},
		{"85 cm left", panel(0.85, 3, 0), true},
		{"60 cm left", panel(0.6, 3, 0), false},
		{"under the ceiling", panel(0, 3, 2), true},
	} {
		if got := w.keep(c.more); got != c.want {
			t.Errorf("%s: free %v, want %v", c.name, got, c.want)
		}
	}
	p.KeepClear = panel(0.5, 3, 0) // leaves 50 cm already: no narrower, and no more is asked for
	if w = newWays(p, model.Layout{Seat: r3.Vec{X: 1.5, Y: 1.5, Z: 1.2}}); w.width[0] != 0.4 {
		t.Errorf("a way of %v m beside what is kept clear", w.width[0])
	}
}

// Film stays off walls behind which it may be cold, and faces the room only behind cloth.
func TestFilm(t *testing.T) {
	t.Parallel()
	p := stocked(t, 12)
	filmed := func() (back, front int) {
		for _, q := range Pieces(p, planner(t, p).layouts[0]) {
			if q.Kind == FilmedLayer {
				if q.Treatments[0].Patch.Face == model.Back {
					back++
				} else {
					front++
				}
			}
		}
		return back, front
	}
	p.Stock.Cover, p.Stock.Cloths = nil, nil
	if b, f := filmed(); b+f > 0 {
		t.Errorf("%d layers face the room with bare film", b+f)
	}
	p.Stock.Cloths = []model.Roll{{Name: "cloth", Width: 1.5, Length: 10}}
	if b, f := filmed(); b == 0 || f == 0 {
		t.Errorf("%d and %d layers behind film and cloth at back and other walls", b, f)
	}
	p.Room.Outer = []model.Face{model.Back}
	if b, f := filmed(); b > 0 || f == 0 {
		t.Errorf("%d layers with film at the cold wall, %d at others", b, f)
	}
}

// Of pieces that gain the same per batt the cheaper one comes first, then the one with fewer
// offcuts; a greater gain comes before both.
func TestTies(t *testing.T) {
	t.Parallel()
	a, b := Piece{Name: "a", Batts: 2, Cost: 30, Offcut: 0.1}, Piece{Name: "b", Batts: 2, Cost: 20, Offcut: 0.4}
	c := &choosing{gains: map[string]float64{keyOf([]Piece{a}): 1.004, keyOf([]Piece{b}): 1}}
	if c.compare(a, b) <= 0 {
		t.Error("of equals the cheaper one comes first")
	}
	b.Cost = 30
	if c.compare(a, b) >= 0 {
		t.Error("of equals that cost the same, the one with fewer offcuts comes first")
	}
	c.gains[keyOf([]Piece{b})] = 1.4
	if c.compare(a, b) <= 0 {
		t.Error("a greater gain comes first")
	}
}
