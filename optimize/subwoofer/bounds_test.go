package subwoofer

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode/modetest"
)

// loungeWalls is the lounge's box with all walls of one specific admittance.
func loungeWalls(t *testing.T, size r3.Vec, admittance float64) model.Engine {
	t.Helper()
	box := model.Box{Size: size, Air: model.AirAt(0)}
	for i := range box.Walls {
		box.Walls[i] = model.Plain(complex(admittance, 0))
	}
	e := modetest.Engine(t, box, model.NewGrid(25, 225, 24, 8))
	return e
}

// In a room of other walls a plan held as it is gets what a search gets there that may
// change nothing: every value fixed and the subwoofer in place already.
func TestSetBoundsHoldsThePlan(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 1
	r := search(t, p, l, Settings{Pitch: 0.8})
	hard, soft := loungeWalls(t, p.Room.Size, 0.01), loungeWalls(t, p.Room.Size, 0.08)
	if err := SetBounds(t.Context(), p, nil, hard, soft, r); err != nil {
		t.Fatal(err)
	}
	s, k := *p.Subwoofers, r.Plans[1].Units[0].Setting
	s.LowPass, s.Delay = model.Range{Min: k.LowPass, Max: k.LowPass}, model.Range{Min: k.Delay, Max: k.Delay}
	s.Gain = model.Range{Min: float64(k.Gain), Max: float64(k.Gain)}
	if s.Polarity = model.NormalPolarity; k.Reversed {
		s.Polarity = model.ReversedPolarity
	}
	s.Placed = []r3.Vec{r.Plans[1].Units[0].Place.Driver}
	held := *p
	held.Subwoofers = &s
	got := r.Plans[1].Seats[0].Walls
	for _, c := range []struct {
		e    model.Engine
		have model.Level
	}{{hard, got.Hard}, {soft, got.Soft}} {
		there, err := Search(t.Context(), &held, c.e, l, Settings{Pitch: 0.8})
		if err != nil {
			t.Fatal(err)
		}
		if want := there.Now.Spread(); math.Abs(float64(c.have-want)) > 1e-6 {
			t.Errorf("held in the other room it is ±%.4f dB, a search without freedom has ±%.4f dB", c.have, want)
		}
	}
	if math.Abs(float64(got.Hard-got.Soft)) < 0.5 {
		t.Errorf("hard ±%.2f dB and soft ±%.2f dB are the same", got.Hard, got.Soft)
	}
}

// An engine of the same kind takes out its own error: where hard walls are the coarse engine's
// typical ones, the bound is the plan's own spread. With the same walls throughout, no plan beats
// itself.
func TestSetBoundsByDifference(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 1
	p.Subwoofers.Placed = []r3.Vec{{X: 0.3, Y: 0.3, Z: 0.22}}
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.6, Y: 2.2, Z: 1}, Height: 1, Weight: 1})
	r := search(t, p, l, Settings{Pitch: 0.8})
	coarse, soft := loungeWalls(t, p.Room.Size, 0.02), loungeWalls(t, p.Room.Size, 0.08)
	if err := SetBounds(t.Context(), p, coarse, coarse, soft, r); err != nil {
		t.Fatal(err)
	}
	for n, plan := range r.All() {
		for _, s := range plan.Seats {
			if spread := s.Judgement.Spread(); math.Abs(float64(s.Walls.Hard-spread)) > 1e-9 {
				t.Errorf("plan %d at the %s: hard walls make ±%.3f of ±%.3f dB", n, s.Name, s.Walls.Hard, spread)
			}
			if low, high := s.Range(); low > s.Walls.Soft || high < s.Walls.Soft || low > high {
				t.Errorf("plan %d: from ±%.2f to ±%.2f dB, soft walls ±%.2f dB", n, low, high, s.Walls.Soft)
			}
		}
	}
	if r.Plans[0].Seats[1].At != p.Seats[1].At {
		t.Errorf("the sofa is at %v", r.Plans[0].Seats[1].At)
	}
	if BetterThroughout(&r.Plans[1], &r.Plans[1]) {
		t.Error("a plan beats itself")
	}
	worse := r.Plans[0]
	worse.Seats = append([]Seat(nil), r.Plans[1].Seats...)
	worse.Seats[0].Walls.Soft += 0.1
	if BetterThroughout(&r.Plans[1], &worse) {
		t.Error("a plan is called better with typical and hard walls, where it is the same")
	}
}
