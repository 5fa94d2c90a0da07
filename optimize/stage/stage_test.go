package stage

import (
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/testroom"
)

// fewModes is an engine for tests of the choosing alone: the modes of a hard box up to
// 120 Hz, each damped by the pieces that stand where its pressure is. It is no model of
// any real room.
type fewModes struct {
	grid  model.Grid
	size  r3.Vec
	modes []fewMode
}

type fewMode struct {
	n               [3]float64
	square, damping float64 // k² in 1/m², 1/s
}

// shape returns the pressure of a mode at a place, 1 in the corners.
func (m *fewMode) shape(size, v r3.Vec) float64 {
	return math.Cos(m.n[0]*math.Pi*v.X/size.X) * math.Cos(m.n[1]*math.Pi*v.Y/size.Y) * math.Cos(m.n[2]*math.Pi*v.Z/size.Z)
}

// byFewModes is a solver that gives such engines.
func byFewModes(p *model.Project, grid model.Grid, _ []model.Block, _ Accuracy) (model.Engine, error) {
	e := &fewModes{grid: grid, size: p.Room.Size}
	for x := range 5 {
		for y := range 4 {
			for z := range 3 {
				m := fewMode{n: [3]float64{float64(x), float64(y), float64(z)}}
				k := math.Pi * math.Sqrt(math.Pow(m.n[0]/e.size.X, 2)+math.Pow(m.n[1]/e.size.Y, 2)+math.Pow(m.n[2]/e.size.Z, 2))
				if k*343/(2*math.Pi) > 120 {
					continue
				}
				m.square, m.damping = k*k, 4
				for i := range p.Room.Treatments {
					b := p.Room.Space(&p.Room.Treatments[i])
					middle := r3.Scale(0.5, r3.Add(b.Min, b.Max))
					d := r3.Sub(b.Max, b.Min)
					m.damping += 60 * d.X * d.Y * d.Z * math.Pow(m.shape(e.size, middle), 2)
				}
				e.modes = append(e.modes, m)
			}
		}
	}
	return e, nil
}

func (e *fewModes) Info() model.EngineInfo    { return model.EngineInfo{Kind: "few modes"} }
func (e *fewModes) Grid() model.Grid          { return e.grid }
func (e *fewModes) Air() model.Air            { return model.AirAt(0) }
func (e *fewModes) Warnings() []model.Warning { return nil }

func (e *fewModes) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	return fewModesField{e, seat}, nil
}

type fewModesField struct {
	*fewModes
	seat r3.Vec
}

func (f fewModesField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, len(f.grid))
	clear(dst)
	for _, m := range f.modes {
		both := m.shape(f.size, f.seat) * m.shape(f.size, source)
		for i, v := range f.grid {
			w := 2 * math.Pi * v
			dst[i] += complex(0, w*both) / complex(m.square-w*w/343/343, 2*w*m.damping/343/343)
		}
	}
	return dst
}

// stocked is a small room with batts in hand and only the back and front wall free.
func stocked(t testing.TB, have int) *model.Project {
	t.Helper()
	p := testroom.Read(t, "planned-room")
	p.Room.Treatments = nil
	p.Stock.Batts = p.Stock.Batts[:1]
	p.Stock.Batts[0].Have = have
	p.Stock.Cover = []model.Cover{
		{Patch: model.Patch{Face: model.Back, Width: 2.3, Height: 2.4}, Deepest: 0.21},
		{Patch: model.Patch{Face: model.Front, Width: 3.3, Height: 2.4}, Deepest: 0.11},
	}
	return p
}

func planner(t testing.TB, p *model.Project) *Planner {
	t.Helper()
	l, err := NewPlanner(p, model.DefaultGrid(), byFewModes)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Every set of pieces that the batts allow, tried one by one, is the reference.
func TestPlanAgainstEverySet(t *testing.T) {
	t.Parallel()
	p := stocked(t, 8)
	l := planner(t, p)
	here := l.site(0)
	here.pieces = slices.DeleteFunc(here.pieces, func(q Piece) bool { return q.Kind != SingleLayer && q.Kind != DoubleLayer })
	plan, err := l.Plan(t.Context(), Settings{LeastGain: 1e-6})
	if err != nil {
		t.Fatal(err)
	}
	best, sets := plan.Start.Score(), 0
	var every func(from int, built []Piece)
	every = func(from int, built []Piece) {
		h, err := l.state(t.Context(), built, 0, Ranked)
		if err != nil {
			t.Fatal(err)
		}
		best, sets = min(best, h.Score()), sets+1
		for i := from; i < len(here.pieces); i++ {
			if here.fits(&here.pieces[i], built, plan.Batts) {
				every(i+1, append(slices.Clone(built), here.pieces[i]))
			}
		}
	}
	every(0, nil)
	if got := plan.End().Score(); got > best+0.25 {
		t.Errorf("plan ends at %.2f dB, the best of %d sets at %.2f dB", got, sets, best)
	}
	t.Logf("plan %.3f dB with %d rooms, best of %d sets %.3f dB", plan.End().Score(), plan.Tried, sets, best)
}

// A plan uses no more than the stock holds, and each stage gains enough.
func TestPlanKeepsToTheStock(t *testing.T) {
	t.Parallel()
	p := stocked(t, 24)
	l := planner(t, p)
	rapid.Check(t, func(t *rapid.T) {
		batts := rapid.IntRange(0, 14).Draw(t, "batts")
		plan, err := l.Plan(context.Background(), Settings{Batts: []int{batts}, Tries: 8, Swaps: 8})
		if err != nil {
			t.Fatal(err)
		}
		if plan.Left(0) < 0 || plan.Used(len(plan.Stages)) > batts {
			t.Fatalf("%d batts used of %d", plan.Used(len(plan.Stages)), batts)
		}
		if plan.Rule.Batts > batts {
			t.Fatalf("the fixed order uses %d batts of %d", plan.Rule.Batts, batts)
		}
		before := plan.Start.Score()
		for i, s := range plan.Stages {
			if got := before - s.After.Score(); math.Abs(got-s.Gain) > 1e-9 || s.Gain < LeastGain {
				t.Fatalf("stage %d gains %.3f dB, said to be %.3f dB", i+1, got, s.Gain)
			}
			before = s.After.Score()
			for _, o := range plan.Stages[:i] {
				if o.Name == s.Name {
					t.Fatalf("%q is built twice", s.Name)
				}
			}
		}
	})
}

func TestPlanIsTheSameOnAnyNumberOfCores(t *testing.T) {
	var names [2][]string
	for i, cores := range []int{1, 3} {
		before := runtime.GOMAXPROCS(cores)
		plan, err := planner(t, stocked(t, 12)).Plan(t.Context(), Settings{})
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Stages) == 0 {
			t.Fatal("no stages")
		}
		for _, s := range plan.Stages {
			names[i] = append(names[i], s.Name)
		}
	}
	if diff := cmp.Diff(names[0], names[1]); diff != "" {
		t.Error(diff)
	}
}

func TestPlanStopsWhenAsked(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithCancel(t.Context())
	n := 0
	plan, err := planner(t, stocked(t, 12)).Plan(ctx, Settings{Progress: func(string, float64) {
		if n++; n == 2 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || plan == nil || plan.Reason != StoppedEarly {
		t.Errorf("stopped in the middle: %v, plan %v", err, plan)
	}
}

func TestPlannerRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(p *model.Project)
		want   error
	}{
		{"no stock", func(p *model.Project) { p.Stock = nil }, ErrNoStock},
		{"no batts", func(p *model.Project) { p.Stock.Batts = nil }, ErrNoStock},
		{"none in hand", func(p *model.Project) { p.Stock.Batts[0].Have = 0 }, ErrNoBatts},
		{"all surfaces blocked", func(p *model.Project) {
			p.Stock.Cover = []model.Cover{{Patch: model.Patch{Face: model.Back, Width: 0.1, Height: 0.1}}}
			p.KeepClear = []model.Block{{Name: "all", Max: p.Room.Size}}
		}, ErrNoPlace},
		{"speakers nowhere", func(p *model.Project) { p.Speakers.Placed = false }, ErrNotNow},
	} {
		p := stocked(t, 8)
		c.change(p)
		if _, err := NewPlanner(p, model.DefaultGrid(), byFewModes); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// One batt is too few for any piece: nothing is built, and the plan says so.
func TestPlanWithTooFewBatts(t *testing.T) {
	t.Parallel()
	plan, err := planner(t, stocked(t, 1)).Plan(t.Context(), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Stages) != 0 || plan.Reason != NoPieceGains && plan.Reason != NoPieceFits || plan.End() != plan.Start {
		t.Errorf("%d stages from one batt, reason %d", len(plan.Stages), plan.Reason)
	}
}

// The plan made for fewer batts should not lose to the beginning of one for more.
func TestRegret(t *testing.T) {
	t.Parallel()
	l := planner(t, stocked(t, 12))
	larger, err := l.Plan(t.Context(), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	smaller, err := l.Plan(t.Context(), Settings{Batts: []int{4}})
	if err != nil {
		t.Fatal(err)
	}
	r := l.Regret(larger, smaller)
	if r.Loss < -0.3 {
		t.Errorf("the plan for 4 batts is %.2f dB worse than what a plan for 12 builds from them", -r.Loss)
	}
	if same := l.Regret(larger, larger); same.Kept != len(larger.Stages) || same.Loss != 0 {
		t.Errorf("the same plan: %d stages kept, %.2f dB lost", same.Kept, same.Loss)
	}
}

func TestPieces(t *testing.T) {
	t.Parallel()
	p := stocked(t, 24)
	p.Stock.Cover = nil
	now, _ := p.Now()
	all := Pieces(p, now)
	sorts := map[Kind]int{}
	for _, q := range all {
		sorts[q.Kind]++
		for i := range q.Treatments {
			if why := p.Obstructions(&q.Treatments[i]); len(why) > 0 {
				t.Errorf("%s %v", q.Name, why)
			}
		}
		if n, _ := battsOf(p, 0, q.Treatments); q.Batts != n || n <= 0 {
			t.Errorf("%s takes %d batts", q.Name, q.Batts)
		}
	}
	for _, s := range []Kind{SingleLayer, DoubleLayer, GappedLayer, FilmedLayer, Corner, Cloud, Screen, Bag} {
		if sorts[s] == 0 {
			t.Errorf("no %v among %d pieces", s, len(all))
		}
	}
	p.Stock.Rental = true
	for _, q := range Pieces(p, now) {
		if q.Kind == Cloud || q.Kind == EdgeFill {
			t.Errorf("%s hangs in a rented room", q.Name)
		}
	}
}

// A column of two batts, upright, 2.4 m high: two for a single layer and its mirror image
// four, as counted by hand.
func TestPieceBattsByHand(t *testing.T) {
	t.Parallel()
	p := stocked(t, 24)
	now, _ := p.Now()
	for _, q := range Pieces(p, now) {
		want := map[Kind]int{SingleLayer: 2, GappedLayer: 2, DoubleLayer: 4, FilmedLayer: 4}[q.Kind] * len(q.Treatments)
		if want > 0 && q.Batts != want {
			t.Errorf("%s: %d batts, want %d", q.Name, q.Batts, want)
		}
	}
}
