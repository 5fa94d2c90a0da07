package optimize

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// brief is a short search, for tests that are not about how good it is.
var brief = Settings{Seed: 3, Population: 32, Generations: 12, Layouts: 3}

// small is a studio with so little room for choice that a search is quick.
func place(t *testing.T, p *model.Project, s Settings) *Result {
	t.Helper()
	r, err := Place(context.Background(), p, newModal(p.Room.Size), s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Without figures the layouts are those of the same search with figures, whose order is by exact scores,
// and a wide search asks the engine itself for fewer fields. A search that was stopped gives none.
func TestLayouts(t *testing.T) {
	t.Parallel()
	p := studio()
	for name, wide := range map[string]model.Engine{"one engine": nil, "two engines": offRoom(p.Room.Size)} {
		s := brief
		s.Wide = wide
		with, without := &counted{Engine: newModal(p.Room.Size)}, &counted{Engine: newModal(p.Room.Size)}
		withFigures, err := Place(t.Context(), p, with, s)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Layouts(t.Context(), p, without, s)
		if err != nil {
			t.Fatal(err)
		}
		var want []model.Layout
		for _, c := range withFigures.Candidates {
			want = append(want, c.Layout)
		}
		slices.SortFunc(got, geometry.CompareLayouts)
		slices.SortFunc(want, geometry.CompareLayouts)
		if len(got) == 0 || !slices.Equal(got, want) {
			t.Errorf("%s: layouts %v, with figures %v", name, got, want)
		}
		if asked, most := without.fields.Load(), with.fields.Load(); wide != nil && asked >= most {
			t.Errorf("%s: %d fields without figures, %d with them", name, asked, most)
		}
		ctx, cancel := context.WithCancel(t.Context())
		cancel()
		if got, err := Layouts(ctx, p, newModal(p.Room.Size), s); got != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%s: stopped, %v and %v", name, got, err)
		}
	}
}

// The layouts are legal, in order, far enough apart, and each is a place from
// which no step of a centimetre leads down. The order and the figures are by the
// engine; the walk was by the table, hence the slack.
func TestPlaceGivesLocalOptima(t *testing.T) {
	t.Parallel()
	p := studio()
	r := place(t, p, Settings{Seed: 1})
	if len(r.Candidates) < 3 {
		t.Fatalf("%d layouts, want 3 at least", len(r.Candidates))
	}
	if r.Evaluations < 5000 {
		t.Errorf("%d layouts tried, want 5000 at least", r.Evaluations)
	}
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	s := score.NewScorer(newModal(p.Room.Size), p, 0.05)
	for i, c := range r.Candidates {
		if v := p.Violation(c.Layout); v > 0 {
			t.Errorf("layout %d: %v", i, p.Breaches(c.Layout))
		}
		for _, o := range r.Candidates[:i] {
			if geometry.Apart(c.Layout, o.Layout) < 0.25-1e-9 || c.Robust < o.Robust {
				t.Errorf("layouts %+v and %+v", o.Layout, c.Layout)
			}
		}
		for _, n := range pr.Neighbours(c.Layout, 1) {
			if p.Violation(n) > 0 {
				continue
			}
			if v, err := s.Robust(t.Context(), n); err != nil || v < c.Robust-2*table.Accuracy {
				t.Errorf("layout %d: %.3f dB, but %.3f dB at %+v (%v)", i, c.Robust, v, n, err)
			}
		}
	}
}

// The figures of a result are the engine's own, whatever the table said.
func TestPlaceFiguresAreExact(t *testing.T) {
	t.Parallel()
	p := small()
	e := newModal(p.Room.Size)
	for _, c := range place(t, p, brief).Candidates {
		want, err := score.Evaluate(t.Context(), p, e, c.Layout, brief.Displacement)
		if err != nil {
			t.Fatal(err)
		}
		want.Breaches = nil
		if d := cmp.Diff(want, c); d != "" {
			t.Error(d)
		}
	}
}

// The same seed gives the same result to the last digit on one core and on two;
// another seed starts elsewhere.
func TestPlaceRepeats(t *testing.T) {
	p := small()
	var results []*Result
	for _, cores := range []int{1, 2, 5} {
		old := runtime.GOMAXPROCS(cores)
		results = append(results, place(t, p, brief))
		runtime.GOMAXPROCS(old)
	}
	for _, r := range results[1:] {
		if d := cmp.Diff(results[0], r); d != "" {
			t.Error(d)
		}
	}
	other := brief
	other.Seed = 4
	if r := place(t, p, other); r.Evaluations == results[0].Evaluations && r.Seed == results[0].Seed {
		t.Error("another seed made the same search")
	}
}

// Stopped by hand, the best so far comes back with the context's error.
func TestPlaceCancelled(t *testing.T) {
	t.Parallel()
	p := small()
	for _, phase := range []string{search.Breeding, search.Polishing} {
		ctx, cancel := context.WithCancel(context.Background())
		s := brief
		s.Progress = afterCalls(phase, 2, cancel)
		r, err := Place(ctx, p, newModal(p.Room.Size), s)
		cancel()
		if !errors.Is(err, context.Canceled) || r == nil || r.Stopped != search.Cancelled || len(r.Candidates) == 0 {
			t.Fatalf("%s: result %+v, error %v", phase, r, err)
		}
		if c := r.Candidates[0]; p.Violation(c.Layout) > 0 || c.Robust <= 0 || c.Judgement.Spread() <= 0 {
			t.Errorf("%s: best so far %+v", phase, c.Layout)
		}
	}
}

// due is a context whose deadline passes when a test says so.
type due struct {
	context.Context
	passed atomic.Bool
}

func (d *due) Err() error {
	if d.passed.Load() {
		return context.DeadlineExceeded
	}
	return nil
}

// When breeding has had enough time, what it found is still polished to local
// optima; when all time is up, the best so far comes back with the error.
func TestPlaceOutOfTime(t *testing.T) {
	t.Parallel()
	p := small()
	for _, whole := range []bool{false, true} {
		d := &due{Context: context.Background()}
		ctx, s := context.Context(context.Background()), brief
		if whole {
			ctx = d
		} else {
			s.BreedUntil = d
		}
		generations, polished := 0, 0
		s.Progress = func(at string, share float64) {
			switch at {
			case search.Breeding:
				generations = int(math.Round(share * float64(s.Generations)))
				d.passed.Store(generations >= 3)
			case search.Polishing:
				polished++
			}
		}
		r, err := Place(ctx, p, newModal(p.Room.Size), s)
		if r == nil || r.Stopped != search.OutOfTime || len(r.Candidates) == 0 || generations > 4 {
			t.Fatalf("whole %v: result %+v after %d generations, error %v", whole, r, generations, err)
		}
		if whole && (!errors.Is(err, context.DeadlineExceeded) || polished > 0) {
			t.Errorf("all time up: %d polished, error %v", polished, err)
		}
		if !whole && (err != nil || polished == 0) {
			t.Errorf("enough bred: %d polished, error %v", polished, err)
		}
	}
}

// A deadline that has passed before the search begins still leaves time for a first layout.
func TestPlaceWithoutTime(t *testing.T) {
	t.Parallel()
	p := small()
	ctx, cancel := context.WithDeadline(context.Background(), time.Unix(0, 0))
	defer cancel()
	r, err := Place(ctx, p, newModal(p.Room.Size), brief)
	if !errors.Is(err, context.DeadlineExceeded) || r == nil || r.Stopped != search.OutOfTime || len(r.Candidates) == 0 {
		t.Fatalf("result %+v, error %v", r, err)
	}
	if c := r.Candidates[0]; p.Violation(c.Layout) > 0 || c.Judgement.Spread() <= 0 {
		t.Errorf("%+v", c)
	}
}

// Stopped before anything was found, there is no result.
func TestPlaceCancelledAtOnce(t *testing.T) {
	t.Parallel()
	p := small()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if r, err := Place(ctx, p, newModal(p.Room.Size), brief); r != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("result %v, error %v", r, err)
	}
}

// What cannot be is explained by the constraints that collide and by how much.
func TestPlaceInfeasible(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		change func(*model.Project)
		want   []model.Rule
	}{
		// The seat is 0.6 m behind, so 0.9 m away under 70° cannot be had.
		{func(p *model.Project) {
			p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.9, Max: 0.9}}}
			p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.5, Max: 1.5}}}
		}, []model.Rule{{Kind: model.SeatNear}, {Kind: model.SeatNear, Side: model.RightSide}}},
		// A wardrobe fills the speakers' zone.
		{func(p *model.Project) {
			p.KeepClear = []model.Block{{Name: "wardrobe", Max: r3.Vec{X: 1.5, Y: 3.1, Z: 2.4}}}
		}, []model.Rule{{Kind: model.SpeakerObstacle, Name: "wardrobe"}, {Kind: model.SpeakerObstacle, Side: model.RightSide, Name: "wardrobe"}}},
		// A zone that the boxes' clearances close.
		{func(p *model.Project) {
			p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.4, Max: 0.8}, Y: model.Range{Min: 0, Max: 0.1}}}
		}, []model.Rule{{Kind: model.SpeakerZone}}},
	} {
		p := small()
		c.change(p)
		_, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
		var none *search.Infeasible
		if !errors.As(err, &none) {
			t.Errorf("error %v", err)
			continue
		}
		for _, w := range c.want {
			if !slices.ContainsFunc(none.Breaches, func(b model.Breach) bool { return b.Rule == w }) {
				t.Errorf("breaches %+v lack %+v", none.Breaches, w)
			}
		}
	}
}

// The nearest miss is found exactly: the chair's zone ends 10 cm short of where
// the speakers' least distance is kept.
func TestInfeasibleAmount(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.5, Max: 0.5}}}
	p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.0, Max: 1.2}}}
	p.Listening.Angle = model.Range{}
	p.Speakers.Apart = model.Range{Min: 0.6, Max: 0.6}
	p.Listening.Distance = model.Range{Min: math.Hypot(0.8, 0.3), Max: 3}
	_, err := Place(context.Background(), p, newModal(p.Room.Size), brief)
	var none *search.Infeasible
	if !errors.As(err, &none) {
		t.Fatal(err)
	}
	// At 1.2 m the head is hypot(0.7, 0.3) away, 9.28 cm short.
	want := math.Hypot(0.8, 0.3) - math.Hypot(0.7, 0.3)
	if len(none.Breaches) != 2 || math.Abs(none.Breaches[0].Amount-want) > 1e-6 {
		t.Errorf("%v, want twice %.4f m", none, want)
	}
}

// With a single legal place the search returns that place.
func TestPlaceOnlyOnePlace(t *testing.T) {
	t.Parallel()
	p := small()
	p.Speakers.Zones = []model.Zone{
		{X: model.Range{Min: 0.61, Max: 0.61}, Y: model.Range{Min: 0.95, Max: 0.95}},
		{X: model.Range{Min: 0.61, Max: 0.61}, Y: model.Range{Min: 2.15, Max: 2.15}},
	}
	p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.7, Max: 1.7}}}
	r := place(t, p, brief)
	if len(r.Candidates) != 1 || r.Evaluations != 1 {
		t.Fatalf("%d layouts after %d tried", len(r.Candidates), r.Evaluations)
	}
	want := model.Layout{Left: r3.Vec{X: 0.61, Y: 0.95, Z: 0.98}, Right: r3.Vec{X: 0.61, Y: 2.15, Z: 0.98}, Seat: r3.Vec{X: 1.7, Y: 1.55, Z: 1.2}, AxisHeight: 1.1}
	if got := r.Candidates[0].Layout; got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// even is a room in which every place is as good as any other: each source gives
// the same pressure everywhere.
type even struct{ *modal }

func (e even) Field(_ context.Context, _ r3.Vec) (model.Field, error) { return evenField{e}, nil }

type evenField struct{ room even }

func (f evenField) Transfer(dst []complex128, _ r3.Vec) []complex128 {
	dst = model.FreeField(dst, f.room.Grid(), f.room.Air(), 1)
	return dst
}

// Where all places are equal the answer is still legal, and still repeats.
func TestPlaceAllEqual(t *testing.T) {
	t.Parallel()
	p := small()
	var first *Result
	for range 2 {
		r, err := Place(context.Background(), p, even{newModal(p.Room.Size)}, brief)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range r.Candidates {
			if c.Judgement.Spread() > 0.01 || p.Violation(c.Layout) > 0 || c.Tolerance.Seat != c.Tolerance.Limit {
				t.Errorf("%+v, spread %v, tolerance %+v", c.Layout, c.Judgement.Spread(), c.Tolerance)
			}
		}
		if first == nil {
			first = r
		} else if d := cmp.Diff(first, r); d != "" {
			t.Error(d)
		}
	}
}

// What stands now is in the result with its faults; doubts of project and engine
// come along.
func TestPlaceNow(t *testing.T) {
	t.Parallel()
	p := small()
	p.Warnings = []model.Warning{model.Remark("the door is guessed")}
	p.Speakers.Placed, p.Seats[0].Placed = true, true
	p.Speakers.Left, p.Speakers.Right = r3.Vec{X: 0.6, Y: 1.2, Z: 0.98}, r3.Vec{X: 0.6, Y: 1.9, Z: 0.98}
	p.Seats[0].At = r3.Vec{X: 3.0, Y: 1.55, Z: 1.2}
	r := place(t, p, brief)
	if r.Now == nil || len(r.Now.Breaches) == 0 || r.Now.Robust <= r.Candidates[0].Robust {
		t.Errorf("now: %+v", r.Now)
	}
	text := fmt.Sprint(r.Warnings)
	if !strings.Contains(text, "the door is guessed") || !strings.Contains(text, "a room for tests") {
		t.Errorf("warnings %v", r.Warnings)
	}
	if r.Engine.Kind != "cosine" || r.Goal != p.Goal || r.Seed != brief.Seed {
		t.Errorf("result of %q for %v with seed %d", r.Engine.Kind, r.Goal, r.Seed)
	}
}

// Two free speakers find legal places too, each on its own.
func TestPlaceFree(t *testing.T) {
	t.Parallel()
	p := freeStudio()
	r := place(t, p, Settings{Seed: 1, Population: 48, Generations: 15})
	for _, c := range r.Candidates {
		if v := p.Violation(c.Layout); v > 0 {
			t.Errorf("%+v: %v", c.Layout, p.Breaches(c.Layout))
		}
	}
}

// The share done never falls within a phase, phases come in their order, and the
// caller is told by one goroutine at a time.
func TestProgress(t *testing.T) {
	t.Parallel()
	order := map[string]int{Tabulating: 0, search.Breeding: 1, search.Polishing: 2, Finishing: 3}
	var inside atomic.Int32
	phase, calls := -1, 0
	s := brief
	s.Progress = func(at string, share float64) {
		if inside.Add(1) != 1 {
			t.Error("called twice at once")
		}
		defer inside.Add(-1)
		calls++
		if order[at] < phase || share < 0 || share > 1 {
			t.Errorf("%v of %s", share, at)
		}
		phase = order[at]
	}
	place(t, small(), s)
	if phase != 3 || calls < 20 {
		t.Errorf("ended in phase %d after %d calls", phase, calls)
	}
}

// With two seats that count, a wide search that is stopped, in whichever phase, comes back
// with the best of what it has found, by the wide engine where it got no further.
func TestTwoSeatSearchStopped(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	for _, phase := range []string{search.Breeding, search.Polishing, Refining, Finishing} {
		ctx, cancel := context.WithCancel(context.Background())
		s := brief
		never := func(int64) bool { return false }
		s.Wide = stoppable{Engine: offRoom(p.Room.Size), fields: new(atomic.Int64), stop: never}
		s.Progress = afterCalls(phase, 2, cancel)
		r, err := Place(ctx, p, stoppable{Engine: newModal(p.Room.Size), fields: new(atomic.Int64), stop: never}, s)
		cancel()
		if !errors.Is(err, context.Canceled) || r == nil || r.Stopped != search.Cancelled || len(r.Candidates) == 0 {
			t.Fatalf("%s: result %+v, error %v", phase, r, err)
		}
		if c := r.Candidates[0]; p.Violation(c.Layout) > 0 || len(c.Seats) != 2 {
			t.Errorf("%s: best so far %+v, %d seats", phase, c.Layout, len(c.Seats))
		}
	}
}
