package stage

import (
	"math"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// moved is a layout with the pair and the seat shifted along the room, m.
func moved(l model.Layout, pair, seat float64) model.Layout {
	l.Left.X, l.Right.X, l.Seat.X = l.Left.X+pair, l.Right.X+pair, l.Seat.X+seat
	return l
}

// A plan with more layouts to choose from never ends with a worse score than one that has to stay, even where the
// other layout is much better as long as nothing is built. It tells of the plan not taken if there was one.
func TestPlanMovesPairAndSeat(t *testing.T) {
	t.Parallel()
	stayed, went := 0, 0
	for _, now := range [][2]float64{{0.1, -0.6}, {0.35, -0.6}, {0.35, 0.4}} {
		p := stocked(t, 6)
		at, _ := p.Now()
		at = moved(at, now[0], now[1])
		p.Speakers.Left, p.Speakers.Right, p.Seats[0].At = at.Left, at.Right, at.Seat
		stay, err := planner(t, p).Plan(t.Context(), Settings{Tries: 4, Swaps: 4})
		if err != nil {
			t.Fatal(err)
		}
		if stay.Moves() || stay.Other != nil {
			t.Error("without other layouts pair and seat move")
		}
		for _, shift := range [][2]float64{{0, 0.75}, {0.25, 0.75}, {0, -0.75}} {
			l := planner(t, p)
			l.MayMove(moved(at, shift[0], shift[1]))
			plan, err := l.Plan(t.Context(), Settings{Tries: 4, Swaps: 4})
			if err != nil {
				t.Fatal(err)
			}
			there, err := l.state(t.Context(), nil, 1, Shown)
			if err != nil {
				t.Fatal(err)
			}
			if plan.End().Score() > stay.End().Score()+1e-9 {
				t.Errorf("now at %v, shifted by %v m: ends at %.2f dB, staying at %.2f dB", now, shift, plan.End().Score(), stay.End().Score())
			}
			if o := plan.Other; o != nil && (o.Moves() == plan.Moves() || o.End().Score() < plan.End().Score()) {
				t.Errorf("now at %v, shifted by %v m: the plan taken ends at %.2f dB, the other one at %.2f dB", now, shift, plan.End().Score(), o.End().Score())
			}
			if plan.Other != nil && stay.End().Score() > plan.End().Score()+2*closeBehind {
				t.Errorf("now at %v, shifted by %v m: a plan that ends %.2f dB behind is told of", now, shift, stay.End().Score()-plan.End().Score())
			}
			switch better := there.Score() < plan.Now.Score()-moveGain; {
			case plan.Moves():
				went++
			case better:
				stayed++
			}
			t.Logf("now at %v, shifted by %v m: now %.2f, there %.2f; staying ends at %.2f dB, the plan at %.2f dB, moves %v", now, shift, plan.Now.Score(), there.Score(), stay.End().Score(), plan.End().Score(), plan.Moves())
		}
	}
	if stayed == 0 || went == 0 {
		t.Errorf("%d plans move, and %d stay though they would begin better elsewhere: the cases show nothing", went, stayed)
	}
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

// The coarsest cells only say what is tried first, the next rank, and what is shown is computed on the finest.
func TestAccuracies(t *testing.T) {
	t.Parallel()
	count := func(couch float64) (n [3]int) {
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
		plan, err := l.Plan(t.Context(), Settings{})
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
		return n
	}
	pieces := len(planner(t, stocked(t, 6)).site(0).pieces)
	alone, couch := count(0), count(0.25)
	if alone[Screened] != pieces+1 || alone[Ranked] == 0 {
		t.Errorf("engines by accuracy %v for %d pieces", alone, pieces)
	}
	if couch[Screened] > pieces+1 || couch[Screened] == 0 || couch[Ranked] == 0 {
		t.Errorf("with a couch engines by accuracy %v for %d pieces", couch, pieces)
	}
}

// A state scores all seats by their weights.
func TestStateOfAllSeats(t *testing.T) {
	t.Parallel()
	p := stocked(t, 4)
	p.Seats = append(p.Seats[:1:1], model.Seat{Name: "couch", Placed: true, At: r3.Vec{X: 3.4, Y: 1.2, Z: 1}, Weight: 0.25})
	l := planner(t, p)
	all, err := l.state(t.Context(), nil, 0, Shown)
	if err != nil {
		t.Fatal(err)
	}
	if len(all.Seats) != 2 || all.Between <= 0 {
		t.Fatalf("%d seats that differ by %v dB", len(all.Seats), all.Between)
	}
	p.Seats = p.Seats[:1]
	alone, err := planner(t, p).state(t.Context(), nil, 0, Shown)
	if err != nil {
		t.Fatal(err)
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

// People walk upright: of a room whose ceiling rises from 1 m on the left to 2.4 m over 1.4 m, the 90 cm on the
// left are lower than 1.9 m and no way. A seat under the slope keeps the way that people stoop on.
func TestWaysUpright(t *testing.T) {
	t.Parallel()
	p := &model.Project{
		Room: model.Room{
			Size:     r3.Vec{X: 4, Y: 3, Z: 2.4},
			Openings: []model.Opening{{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 2, Width: 0.8, Height: 2}}},
			Slopes:   []model.Slope{{Through: [3]r3.Vec{{Z: 1}, {X: 4, Z: 1}, {Y: 1.4, Z: 2.4}}}},
		},
		Seats: []model.Seat{{Name: "chair"}},
	}
	across := func(y0, y1 float64) []model.Block {
		return []model.Block{{Min: r3.Vec{X: 2.5, Y: y0}, Max: r3.Vec{X: 2.7, Y: y1, Z: 1}}}
	}
	for _, c := range []struct {
		name  string
		seat  r3.Vec
		width float64
		more  []model.Block
		want  bool
	}{
		{"under the slope alone", r3.Vec{X: 1, Y: 2}, wayWidth, across(0.9, 3), false},
		{"upright beside the right wall", r3.Vec{X: 1, Y: 2}, wayWidth, across(0, 2.15), true},
		{"a seat far under the slope, open", r3.Vec{X: 1, Y: 0.2}, wayWidth, across(1.5, 3), true},
		{"a seat far under the slope, closed", r3.Vec{X: 1, Y: 0.2}, wayWidth, across(0, 3), false},
	} {
		w := newWays(p, model.Layout{Seat: c.seat})
		if got := w.keep(c.more); w.width[0] != c.width || got != c.want {
			t.Errorf("%s: a way of %v m, free %v; want %v m, %v", c.name, w.width[0], got, c.width, c.want)
		}
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
