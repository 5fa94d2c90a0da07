package optimize

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"

	"gonum.org/v1/gonum/spatial/r3"
)

// fixedPair is a room whose speakers stay, one higher and nearer than the other.
func fixedPair() *model.Project {
	p := small()
	s := &p.Speakers
	s.Fixed, s.Free, s.Placed, s.Zones = true, true, true, nil
	s.Left, s.Right = r3.Vec{X: 0.45, Y: 0.9, Z: 0.98}, r3.Vec{X: 0.5, Y: 2.2, Z: 1.04}
	p.Seats[0].Zones[0].Y = model.Range{Min: 1.2, Max: 1.9}
	return p
}

// Speakers that stay are where they are in every layout; the seat alone is placed, as
// far from either as free pairs must be, and better than a lattice of seats.
func TestFixedSpeakersMovingSeat(t *testing.T) {
	t.Parallel()
	p := fixedPair()
	r := place(t, p, Settings{Seed: 3, Population: 48, Generations: 20, Layouts: 3, Apart: 0.1})
	for i, c := range r.Candidates {
		if c.Layout.Left != p.Speakers.Left || c.Layout.Right != p.Speakers.Right {
			t.Errorf("layout %d has moved a speaker: %+v", i+1, c.Layout)
		}
		if v := p.Violation(c.Layout); v > 0 {
			t.Errorf("layout %d breaks rules by %g m", i+1, v)
		}
	}
	best := r.Candidates[0]
	s := score.NewScorer(newModal(p.Room.Size), p, 0.05)
	looked := 0
	for x := 1.5; x <= 2.1; x += 0.05 {
		for y := 1.2; y <= 1.9; y += 0.02 {
			l := best.Layout
			l.Seat = r3.Vec{X: x, Y: y, Z: 1.2}
			if p.Violation(l) > 0 {
				continue
			}
			looked++
			v, err := s.Robust(t.Context(), l)
			if err != nil {
				t.Fatal(err)
			}
			if v < best.Robust-0.1 {
				t.Errorf("the seat at %.2f, %.2f m has %.2f dB, the best found %.2f", x, y, v, best.Robust)
			}
		}
	}
	if looked < 10 {
		t.Fatalf("only %d legal seats", looked)
	}
}

// A seat that stays with a pair that moves, and zones without size.
func TestSeatStaysPairMoves(t *testing.T) {
	t.Parallel()
	p := small()
	p.Seats[0].Placed, p.Seats[0].At, p.Seats[0].Zones = true, r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}, nil
	for _, c := range place(t, p, brief).Candidates {
		if c.Layout.Seat != p.Seats[0].At {
			t.Errorf("the seat has moved to %v", c.Layout.Seat)
		}
	}
}

// One legal place only: it is found, alone, and it is all that is tried.
func TestOneLegalPlace(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.6, Max: 0.6}, Y: model.Range{Min: 0.95, Max: 0.95}}, {X: model.Range{Min: 0.6, Max: 0.6}, Y: model.Range{Min: 2.15, Max: 2.15}}}
	p.Seats[0].Zones[0].X = model.Range{Min: 1.7, Max: 1.7}
	r := place(t, p, Settings{Population: 32, Generations: 20, StallLimit: 5})
	want := model.Layout{Left: r3.Vec{X: 0.6, Y: 0.95, Z: 0.98}, Right: r3.Vec{X: 0.6, Y: 2.15, Z: 0.98}, Seat: r3.Vec{X: 1.7, Y: 1.55, Z: 1.2}, AxisHeight: 1.1}
	if len(r.Candidates) != 1 || r.Candidates[0].Layout != want || r.Evaluations != 1 || r.Stopped != search.Converged {
		t.Errorf("%d layouts of %d tried, %v: %+v", len(r.Candidates), r.Evaluations, r.Stopped, r.Candidates[0].Layout)
	}
}

// open is a room without walls: only the direct sound.
type open struct{ model.Engine }

type openField struct {
	grid model.Grid
	air  model.Air
	seat r3.Vec
}

func (o open) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	return openField{o.Grid(), o.Air(), seat}, nil
}

func (f openField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	return model.FreeField(dst, f.grid, f.air, r3.Norm(r3.Sub(source, f.seat)))
}

// Where all places are equal the search ends early, says that the response is even,
// and advises no move.
func TestAllPlacesEqual(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Placed, p.Speakers.Left, p.Speakers.Right = true, r3.Vec{X: 0.5, Y: 1, Z: 1}, r3.Vec{X: 0.5, Y: 2.1, Z: 1}
	p.Seats[0].Placed, p.Seats[0].At = true, r3.Vec{X: 1.6, Y: 1.55, Z: 1.2}
	r, err := Place(context.Background(), p, open{newModal(p.Room.Size)}, Settings{Seed: 1, Population: 48, Generations: 60, StallLimit: 10})
	if err != nil {
		t.Fatal(err)
	}
	if r.Stopped != search.Converged || len(r.Steps) > 0 {
		t.Errorf("%v with %d steps", r.Stopped, len(r.Steps))
	}
	for i, c := range r.Candidates {
		if c.Judgement.Spread() > 0.02 || c.Tolerance.Left < c.Tolerance.Limit {
			t.Errorf("layout %d: ±%.3f dB, tolerance %+v", i+1, c.Judgement.Spread(), c.Tolerance)
		}
	}
}

// wantedRelaxation is a constraint that is to be relaxed, by so much in m if that is given.
type wantedRelaxation struct {
	constraint search.Constraint
	least      float64
}

// collisions are pairs of constraints that cannot both be met, with those to be relaxed.
var collisions = map[string]struct {
	change func(p *model.Project)
	want   []wantedRelaxation
}{
	"seat too near": {func(p *model.Project) { p.Seats[0].Zones[0].X = model.Range{Min: 1.1, Max: 1.1} },
		[]wantedRelaxation{{search.Constraint{Kind: search.DistanceConstraint}, 0.0455}, {search.Constraint{Kind: search.SeatZonesConstraint}, 0.05}}},
	"seat at the back wall": {func(p *model.Project) { p.Seats[0].Zones[0].X = model.Range{Min: 3.4, Max: 3.6} },
		[]wantedRelaxation{{search.Constraint{Kind: search.SeatZonesConstraint}, 0}, {search.Constraint{Kind: search.SpeakerZonesConstraint}, 0}}},
	"woofers apart under a small angle": {func(p *model.Project) {
		p.Speakers.Apart = model.Range{Min: 2.2, Max: 2.4}
		p.Listening.Angle = model.Range{Min: 0.5, Max: 0.6}
	}, []wantedRelaxation{{search.Constraint{Kind: search.AngleConstraint}, 0}, {search.Constraint{Kind: search.ApartConstraint}, 0}}},
	"desk in the zone": {func(p *model.Project) {
		p.KeepClear = []model.Block{{Name: "desk", Max: r3.Vec{X: 1.2, Y: 3.1, Z: 1.5}}}
	}, []wantedRelaxation{{search.Constraint{Kind: search.KeepClearConstraint, Name: "desk"}, 0.4}}},
	"clearance beside a tight zone": {func(p *model.Project) {
		p.Speakers.SideClearance = 0.9
		p.Speakers.Apart = model.Range{Min: 1.3, Max: 1.5}
	}, []wantedRelaxation{{search.Constraint{Kind: search.SideConstraint}, 0}, {search.Constraint{Kind: search.ApartConstraint}, 0}}},
}

// The error names both constraints that collide, and by how much each must be relaxed.
func TestRelaxationsNameWhatCollides(t *testing.T) {
	t.Parallel()
	for name, c := range collisions {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := small()
			c.change(p)
			_, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
			var none *search.Infeasible
			if !errors.As(err, &none) {
				t.Fatalf("%v", err)
			}
			for _, want := range c.want {
				i := slices.IndexFunc(none.Relaxations, func(r search.Relaxation) bool { return r.Constraint == want.constraint })
				if i < 0 {
					t.Errorf("%+v is not named in %+v", want.constraint, none.Relaxations)
				} else if got := none.Relaxations[i].Least.Amount; want.least > 0 && math.Abs(got-want.least) > 1e-4 {
					t.Errorf("%+v is to be relaxed by %v m, want %v", want.constraint, got, want.least)
				}
			}
		})
	}
}

// Relaxing by the amount named, and a millimetre more, is enough; by a centimetre less it
// is not.
func TestRelaxationsAreEnough(t *testing.T) {
	t.Parallel()
	try := func(by float64) error {
		p := small()
		p.Seats[0].Zones[0].X = model.Range{Min: 1.1, Max: 1.1}
		p.Listening.Distance.Min -= by
		_, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
		return err
	}
	if err := try(0.0465); err != nil {
		t.Errorf("4.65 cm less distance: %v", err)
	}
	if err := try(0.0355); err == nil {
		t.Error("3.55 cm less distance are enough, though 4.55 were asked for")
	}
	p := small()
	p.Seats[0].Zones[0].X = model.Range{Min: 1.1, Max: 1.15 + 1e-6}
	if _, err := Place(context.Background(), p, newModal(p.Room.Size), brief); err != nil {
		t.Errorf("a zone 5 cm longer: %v", err)
	}
}

// With two collisions at once, the error says that relaxing one constraint is not enough.
func TestNoSingleRelaxation(t *testing.T) {
	t.Parallel()
	p := small()
	p.Listening.Distance = model.Range{Min: 3.9, Max: 4}
	p.Speakers.Apart = model.Range{Min: 4, Max: 5}
	_, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
	var none *search.Infeasible
	if !errors.As(err, &none) || len(none.Relaxations) > 0 || len(none.Breaches) < 2 {
		t.Errorf("%v: %+v", err, none)
	}
}

// Where nothing may move there is one layout, as it stands.
func TestNothingMayMove(t *testing.T) {
	t.Parallel()
	p := fixedPair()
	p.Seats[0].Placed, p.Seats[0].At, p.Seats[0].Zones = true, r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}, nil
	r := place(t, p, brief)
	if now, _ := p.Now(); len(r.Candidates) != 1 || r.Candidates[0].Layout.Seat != now.Seat || r.Candidates[0].Layout.Left != now.Left || len(r.Steps) > 0 {
		t.Errorf("%+v", r.Candidates)
	}
}
