package uncertainty

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Every part of a trial is within what it may be off, and few trials are the first of
// many.
func TestTrialsKeepTheirBounds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Int64().Draw(t, "seed")
		n := rapid.IntRange(1, 20).Draw(t, "n")
		all := Trials(20, seed)
		if !slices.Equal(Trials(n, seed), all[:n]) {
			t.Fatal("few trials are not the first of many")
		}
		within := func(v, most float64) bool { return math.Abs(v) <= most }
		for _, d := range all {
			for _, w := range d.Walls {
				if !within(w, 1) {
					t.Fatalf("wall at %g", w)
				}
			}
			for _, v := range append(d.Marks[:], d.Size) {
				if !within(v.X, TapeError) || !within(v.Y, TapeError) || !within(v.Z, TapeError) {
					t.Fatalf("tape off by %v", v)
				}
			}
			if !within(d.Temperature, TemperatureError) || !within(d.Woofer, WooferError) {
				t.Fatalf("%+v", d)
			}
		}
	})
}

// Two walls go half together: of v = a + b and w = a + c with like variances the
// correlation is 1/2. Their mean is typical, their variance 2·(1/12) of a unit span.
func TestWallsErrTogether(t *testing.T) {
	t.Parallel()
	const n = 20000
	var sum, square, both float64
	for _, d := range Trials(n, 5) {
		sum += d.Walls[0] / n
		square += d.Walls[0] * d.Walls[0] / n
		both += d.Walls[0] * d.Walls[3] / n
	}
	if math.Abs(sum) > 0.02 || math.Abs(square-2.0/12) > 0.01 || math.Abs(both/square-0.5) > 0.03 {
		t.Errorf("mean %.3f, variance %.3f, correlation %.3f", sum, square, both/square)
	}
}

// The speed of sound follows the trial's temperature, 331.3·√(T/273.15) m/s in dry air
// (textbook, from memory), and the room its sizes.
func TestTrialBox(t *testing.T) {
	t.Parallel()
	room := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}, Temperature: 293.15}
	box := Trial{Temperature: 4, Size: r3.Vec{X: 0.01, Z: -0.01}}.Box(room, model.Box{Size: r3.Vec{X: 1}})
	if want := 331.3 * math.Sqrt(297.15/273.15); math.Abs(box.Air.Speed-want) > 0.5 {
		t.Errorf("%.2f m/s, want %.2f", box.Air.Speed, want)
	}
	if r3.Norm(r3.Sub(box.Size, r3.Vec{X: 4.01, Y: 3, Z: 2.39})) > 1e-12 {
		t.Errorf("size %v", box.Size)
	}
}

// trialRoom is an engine for a trial: the tests' room in its trial's size.
func trialRoom(p *model.Project) func(Trial) (model.Engine, error) {
	return func(d Trial) (model.Engine, error) { return testroom.New(r3.Add(p.Room.Size, d.Size)), nil }
}

// A trial without errors gives the figures of the result, and the
// first layout is first.
func TestRankWithoutErrors(t *testing.T) {
	t.Parallel()
	p := testroom.SofaRoom(0.5)
	p.Speakers.Placed, p.Speakers.Left, p.Speakers.Right = true, r3.Vec{X: 0.4, Y: 1, Z: 1}, r3.Vec{X: 0.4, Y: 2.1, Z: 1}
	p.Seats[0].Placed, p.Seats[0].At = true, r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}
	r := found(t, p)
	s, err := Rank(context.Background(), p, r, make([]Trial, 1), trialRoom(p))
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range append(slices.Clone(r.Candidates), *r.Now) {
		stand := s.Now
		if i < len(r.Candidates) {
			stand = &s.Layouts[i]
		}
		want := float64(c.Judgement.Spread())
		if l := stand.Spread; math.Abs(l.Low-want) > 1e-9 || math.Abs(l.Median-want) > 1e-9 || math.Abs(l.High-want) > 1e-9 {
			t.Errorf("layout %d: %+v, want %.3f", i+1, l, want)
		}
		if want := float64(c.Judgement.Figures[c.Judgement.Worst].Lowest.Level); math.Abs(stand.Lowest.Median-want) > 1e-9 {
			t.Errorf("layout %d: lowest %+v, want %.3f", i+1, stand.Lowest, want)
		}
	}
}

// In every trial one layout is first; ranges are in order; the same seed gives the same counts.
func TestRankCounts(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	r := found(t, p)
	stay := func(seed int64) *Stability {
		s, err := Rank(context.Background(), p, r, Trials(30, seed), trialRoom(p))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s, again := stay(1), stay(1)
	firsts := 0
	for i, l := range s.Layouts {
		firsts += l.First
		if l != again.Layouts[i] {
			t.Errorf("layout %d: %+v, then %+v", i+1, l, again.Layouts[i])
		}
		if !(l.Spread.Low < l.Spread.Median && l.Spread.Median < l.Spread.High && l.Lowest.Low < l.Lowest.High && l.Reach.Low <= l.Reach.High) {
			t.Errorf("layout %d: %+v", i+1, l)
		}
		if l.Better != 0 {
			t.Errorf("layout %d is better than nothing", i+1)
		}
	}
	if firsts != 30 || s.Trials != 30 || s.Now != nil || len(s.Layouts) != len(r.Candidates) {
		t.Errorf("%d layouts are first in 30 trials: %+v", firsts, s)
	}
}

// Counting, by hand: two layouts and the present one in four trials.
func TestCount(t *testing.T) {
	t.Parallel()
	trial := func(a, b, now float64) []reading { return []reading{{score: a, spread: a}, {score: b}, {score: now}} }
	s := count([][]reading{trial(5, 6, 9), trial(7, 6, 9), trial(8, 8, 8), trial(9, 11, 10)}, 2)
	if s.Layouts[0].First != 3 || s.Layouts[1].First != 1 || s.Layouts[0].Better != 3 || s.Layouts[1].Better != 2 || s.Now.First != 0 {
		t.Errorf("%+v", s)
	}
	if l := s.Layouts[0].Spread; math.Abs(l.Low-5.6) > 1e-12 || l.Median != 7.5 || math.Abs(l.High-8.7) > 1e-12 {
		t.Errorf("of 5, 7, 8 and 9: %+v, want 5.6, 7.5 and 8.7", l)
	}
	if none := count(nil, 2); none.Trials != 0 || len(none.Layouts) != 2 {
		t.Errorf("%+v", none)
	}
}

// Errors are returned, and a context that ends ends the work.
func TestRankFails(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	r := &optimize.Result{Candidates: []score.Candidate{{Layout: model.Layout{Left: r3.Vec{X: 0.5, Y: 1}, Right: r3.Vec{X: 0.5, Y: 2}, Seat: r3.Vec{X: 2, Y: 1.5}}}}}
	broken := errors.New("no such room")
	if _, err := Rank(context.Background(), p, r, Trials(3, 1), func(Trial) (model.Engine, error) { return nil, broken }); !errors.Is(err, broken) {
		t.Errorf("%v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Rank(ctx, p, r, Trials(3, 1), trialRoom(p)); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// found returns a few layouts of a project by a short search.
func found(t *testing.T, p *model.Project) *optimize.Result {
	t.Helper()
	r, err := optimize.Place(context.Background(), p, testroom.New(p.Room.Size), optimize.Settings{Seed: 3, Population: 32, Generations: 12, Layouts: 3})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// strictRoom refuses a seat and panics at a source that is outside the box by anything at
// all, as the engines for boxes do.
type strictRoom struct{ *testroom.Cosine }

func (e strictRoom) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if !(&model.Box{Size: e.Size}).Contains(seat) {
		return nil, fmt.Errorf("the seat at %v is outside the room of %v", seat, e.Size)
	}
	f, err := e.Cosine.Field(ctx, seat)
	return strictField{f, e.Size}, err
}

type strictField struct {
	model.Field
	size r3.Vec
}

func (f strictField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	if !(&model.Box{Size: f.size}).Contains(source) {
		panic(fmt.Sprintf("the source at %v is outside the room of %v", source, f.size))
	}
	return f.Field.Transfer(dst, source)
}

// A sofa against the wall, and speakers that touch the right wall and the floor, are in
// rooms that turn out smaller than the tape said.
func TestRandomRoomsHoldWhatTouchesTheWalls(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	size := p.Room.Size
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats,
		model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: size.X, Y: 1.1, Z: 1}, Weight: 1},
		model.Seat{Name: "bed", Placed: true, At: r3.Vec{X: 1, Y: size.Y, Z: size.Z}, Weight: 1})
	r := &optimize.Result{Candidates: []score.Candidate{{Layout: model.Layout{
		Left: r3.Vec{X: 0.5, Y: 0.1}, Right: r3.Vec{X: 0.5, Y: size.Y}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2},
	}}}}
	_, err := Rank(context.Background(), p, r, Trials(20, 1), func(d Trial) (model.Engine, error) {
		return strictRoom{testroom.New(r3.Add(size, d.Size))}, nil
	})
	if err != nil {
		t.Error(err)
	}
}

// A curve straight over lg f is unchanged on the grid of ranges, and beyond its ends the last level
// holds.
func TestRangeLevels(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(25, 300, 5, 0)
	curve := make([]model.Level, len(grid))
	for i, f := range grid {
		curve[i] = model.Level(10 * math.Log10(f))
	}
	for k, got := range rangeLevels(grid, curve, 3) {
		want := 10*math.Log10(min(max(rangeGrid()[k], 25), 300)) - 3
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%.1f Hz: %v, want %v", rangeGrid()[k], got, want)
		}
	}
}

// Ranges, by hand: of levels 5, 7, 8 and 9 a tenth is below 5.6 and a tenth above 8.7, as for
// every other figure of [count].
func TestRanges(t *testing.T) {
	t.Parallel()
	var all [][]reading
	for _, level := range []float64{7, 5, 9, 8} {
		var o reading
		for c := range o.levels {
			o.levels[c] = make([]float64, len(rangeGrid()))
			for k := range o.levels[c] {
				o.levels[c][k] = level + float64(c)
			}
		}
		all = append(all, []reading{o})
	}
	s := count(all, 1)
	for c, r := range s.Ranges[0] {
		last := len(s.Grid) - 1
		if math.Abs(r.Low[last]-5.6-float64(c)) > 1e-12 || math.Abs(r.High[0]-8.7-float64(c)) > 1e-12 {
			t.Errorf("channel %d: %v to %v", c, r.Low[last], r.High[0])
		}
	}
}
