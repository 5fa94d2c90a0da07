package subwoofer

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode/modetest"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"
)

// lounge is a small room with a pair and a chair off the mid-line that stay, and
// subwoofers to come; nothing in it is any real room's.
func lounge() (*model.Project, model.Layout) {
	p := testroom.Studio()
	at6 := math.Pow(3, 0.25) // limit at -3 dB of a sealed box, over where it is 6 dB down
	p.Speakers.LowLimit = 60 * at6
	p.Goal = model.Goal{From: 30, To: 150, Smoothing: 12}
	p.Subwoofers = &model.Subwoofers{
		Count: 2, Box: model.Dimensions{Depth: 0.35, Width: 0.35, Height: 0.4}, Height: 0.22, LowLimit: 25 * at6,
		LowPass: model.Range{Min: 50, Max: 120}, HighPass: 80, Filter: model.LinkwitzRiley4,
		Gain: model.Range{Min: -12, Max: 6}, Delay: model.Range{Max: 0.02},
	}
	l := model.Layout{
		Left: r3.Vec{X: 0.6, Y: 0.9, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.2, Z: 1}, Seat: r3.Vec{X: 2.4, Y: 1.3, Z: 1.2}, AxisHeight: 1.12,
	}
	return p, l
}

func search(t *testing.T, p *model.Project, l model.Layout, s Settings) *Result {
	t.Helper()
	r, err := Search(context.Background(), p, testroom.New(p.Room.Size), l, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Each further subwoofer helps or is left out; what is set is within its range and on
// its step; boxes keep clear of each other, of the walls and of the pair.
func TestSearch(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 3
	r := search(t, p, l, Settings{Pitch: 0.4})
	if len(r.Plans) < 3 || r.Plans[1].Spread() > r.Plans[0].Spread()-3 {
		t.Errorf("%d plans; one subwoofer brings ±%.1f to ±%.1f dB", len(r.Plans), r.Plans[0].Spread(), r.Plans[1].Spread())
	}
	for n, plan := range r.Plans {
		if len(plan.Units) != n {
			t.Fatalf("plan %d has %d subwoofers", n, len(plan.Units))
		}
		if n > 0 && plan.Robust >= r.Plans[n-1].Robust {
			t.Errorf("subwoofer %d makes %v of %v dB", n, plan.Robust, r.Plans[n-1].Robust)
		}
		checkPlaces(t, p, l, plan.Units)
	}
}

func checkPlaces(t *testing.T, p *model.Project, l model.Layout, list []Unit) {
	t.Helper()
	onStep := func(v, step float64) bool { return math.Abs(v/step-math.Round(v/step)) < 1e-6 }
	s := p.Subwoofers
	for i, sub := range list {
		k := sub.Setting
		if !s.Gain.Contains(float64(k.Gain)) || !s.Delay.Contains(k.Delay) || !s.LowPass.Contains(k.LowPass) ||
			!onStep(float64(k.Gain), gainStep) || !onStep(k.Delay, delayStep) || !onStep(k.LowPass, lowPassStep) {
			t.Errorf("set to %+v", k)
		}
		if fault := p.SubwooferPlaceFault(sub.Place); fault != "" {
			t.Errorf("%v: %s", sub.Place, fault)
		}
		box := s.Cabinet(sub.Place)
		if box.Overlaps(p.Speakers.Cabinet(l.Left)) || box.Overlaps(p.Speakers.Cabinet(l.Right)) || model.Plan(sub.Place.Driver, l.Seat) < model.LeastDistance {
			t.Errorf("%v is in the way of the pair or the seat", sub.Place)
		}
		for _, other := range list[:i] {
			if box.Overlaps(s.Cabinet(other.Place)) {
				t.Errorf("%v and %v overlap", sub.Place, other.Place)
			}
		}
	}
}

// The ways add up to what is judged, and the mains beside subwoofers carry the
// high-pass: 6.02 dB down at its corner (S. H. Linkwitz 1976).
func TestContributionsAddUp(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 2
	e := testroom.New(p.Room.Size)
	r := search(t, p, l, Settings{Pitch: 0.8})
	plain, with := r.Plans[0].Seats[0], r.Plans[2].Seats[0]
	for i := range e.Grid() {
		sum := with.Mains.Left[i] + with.Units[0][i] + with.Units[1][i]
		if cmplx.Abs(sum-with.Pair.Left[i]) > 1e-9*cmplx.Abs(sum) {
			t.Fatalf("the ways add up to %v, judged is %v", sum, with.Pair.Left[i])
		}
	}
	i := e.Grid().Nearest(80)
	f := e.Grid()[i]
	want := model.PowerLevel(math.Pow(math.Pow(f/80, 4)/(1+math.Pow(f/80, 4)), 2))
	if got := model.LevelOf(cmplx.Abs(with.Mains.Left[i] / plain.Mains.Left[i])); math.Abs(float64(got-want)) > 1e-9 {
		t.Errorf("the high-pass is %v dB at %v Hz, want %v", got, f, want)
	}
}

// The same search gives the same answer on any number of cores.
func TestSearchRepeats(t *testing.T) {
	p, l := lounge()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first *Result
	for _, cores := range []int{1, 2, 5} {
		runtime.GOMAXPROCS(cores)
		r := search(t, p, l, Settings{Pitch: 0.8})
		if first == nil {
			first = r
		}
		if diff := cmp.Diff(first, r); diff != "" {
			t.Errorf("%d cores: %s", cores, diff)
		}
	}
}

// With every value fixed but the polarity, every two places can be tried: the search
// comes within 0.1 dB of the best of them all.
func TestSearchAgainstAll(t *testing.T) {
	t.Parallel()
	for _, seat := range []r3.Vec{{X: 2.4, Y: 1.3, Z: 1.2}, {X: 3.1, Y: 1.55, Z: 1.2}, {X: 2.0, Y: 1.9, Z: 1.1}} {
		p, l := lounge()
		l.Seat = seat
		s := p.Subwoofers
		s.LowPass, s.Gain, s.Delay = model.Range{Min: 80, Max: 80}, model.Range{Min: -3, Max: -3}, model.Range{Min: 0.004, Max: 0.004}
		r := search(t, p, l, Settings{Pitch: 0.4})
		best, count := everyTwo(t, p, l)
		t.Logf("%d sets of two, the best ±%.2f dB; found ±%.2f dB", count, best, r.Plans[len(r.Plans)-1].Robust)
		if float64(r.Plans[len(r.Plans)-1].Robust) > best+0.1 {
			t.Errorf("found ±%.2f dB, there is ±%.2f dB", r.Plans[len(r.Plans)-1].Robust, best)
		}
	}
}

// Settings that are refined one after the other end where only two of them together gain: here at ±5.37 dB. A
// search that tries twice as many sets and places closely, but no settings together, ends at ±5.15 dB.
func TestSettingsTogether(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	l.Seat = r3.Vec{X: 2.0, Y: 1.9, Z: 1.1}
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.4, Y: 1, Z: 1.1}, Height: 1.1, Weight: 0.25})
	r := search(t, p, l, Settings{Pitch: 0.4})
	if found := r.Plans[2].Robust; found > 5.15 {
		t.Errorf("two subwoofers give ±%.2f dB", found)
	}
}

// everyTwo returns the best score of every two places either way round.
func everyTwo(t *testing.T, p *model.Project, l model.Layout) (best float64, count int) {
	t.Helper()
	r := tablesOf(t, p, testroom.New(p.Room.Size), l, 0.4)
	best = math.Inf(1)
	k := Setting{Gain: -3, Delay: 0.004, LowPass: 80}
	for i := range r.places {
		for j := range i {
			for way := range 4 {
				set := []unit{{r.places[i], k}, {r.places[j], k}}
				set[0].setting.Reversed, set[1].setting.Reversed = way&1 != 0, way&2 != 0
				if r.apart(&set[1].place, set, 1) {
					best = min(best, r.Score(set))
					count++
				}
			}
		}
	}
	return best, count
}

func tablesOf(t *testing.T, p *model.Project, e model.Engine, l model.Layout, pitch float64) *tables {
	t.Helper()
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	r, err := newTables(t.Context(), p, b, l, Settings{Pitch: pitch, Displacement: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// hall is a hard box of 5 x 4.1 x 2.4 m with hardly any loss, and a seat near a corner,
// where every mode is loud.
func hall(t *testing.T) (*model.Project, model.Engine, model.Layout) {
	t.Helper()
	p, l := lounge()
	p.Room.Size = r3.Vec{X: 5, Y: 4.1, Z: 2.4}
	p.Speakers.LowLimit, p.Subwoofers.LowLimit, p.Subwoofers.Where = 0, 0, model.Anywhere
	p.Subwoofers.HighPass = 250 // the pair is out of the way
	l.Seat = r3.Vec{X: 4.8, Y: 0.2, Z: 1.2}
	p.Goal = model.Goal{From: 30, To: 65, Smoothing: 48}
	air := model.AirAt(0)
	air.Loss = 0.004
	grid := model.NewGrid(25, 150, 24, 0)
	for _, m := range [][2]int{{1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}, {2, 2}, {4, 0}} {
		grid = append(grid, planMode(p, m))
	}
	slices.Sort(grid)
	e := modetest.Engine(t, model.Box{Size: p.Room.Size, Air: air}, grid)
	return p, e, l
}

// planMode returns the frequency of a mode of a rigid box that is even along the height.
func planMode(p *model.Project, m [2]int) float64 {
	return model.AirAt(0).Speed / 2 * math.Hypot(float64(m[0])/p.Room.Size.X, float64(m[1])/p.Room.Size.Y)
}

// Which modes of a rigid box several sources in phase leave: the mean of cos(mπx/L)
// cos(nπy/W) over the sources, exact. That four wall midpoints leave none below (2,2)
// and (4,0) is the rule behind T. Welti and A. Devantier, JAES 54(5) (2006) 347; the
// means are computed by hand. What is left is compared with a source at a place where
// the mode is full.
func TestInPhaseCancelsModes(t *testing.T) {
	t.Parallel()
	p, e, l := hall(t)
	const left, mid, right = 0.0, 0.5, 1.0
	for _, c := range []struct {
		name    string
		at      [][2]float64 // as shares of length and width
		cancels [][2]int
		leaves  [][2]int
	}{
		{"opposite wall midpoints across", [][2]float64{{mid, left}, {mid, right}}, [][2]int{{0, 1}, {1, 0}, {1, 1}}, [][2]int{{2, 0}, {0, 2}}},
		{"opposite wall midpoints along", [][2]float64{{left, mid}, {right, mid}}, [][2]int{{0, 1}, {1, 0}, {1, 1}}, [][2]int{{2, 0}, {0, 2}}},
		{"four corners", [][2]float64{{left, left}, {left, right}, {right, left}, {right, right}}, [][2]int{{1, 0}, {0, 1}, {1, 1}}, [][2]int{{2, 0}, {0, 2}}},
		{"four wall midpoints", [][2]float64{{mid, left}, {mid, right}, {left, mid}, {right, mid}}, [][2]int{{1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}}, [][2]int{{4, 0}, {2, 2}}},
		{"quarter points", [][2]float64{{.25, .25}, {.25, .75}, {.75, .25}, {.75, .75}}, [][2]int{{1, 0}, {0, 1}, {1, 1}, {2, 0}, {0, 2}, {2, 2}}, [][2]int{{4, 0}}},
	} {
		var set []unit
		r := tablesOf(t, p, e, l, 0.5)
		for _, at := range append(c.at, [2]float64{left, left}) { // the last is the corner, where every mode is full
			q := model.SubwooferPlace{Driver: r3.Vec{X: at[0] * p.Room.Size.X, Y: at[1] * p.Room.Size.Y, Z: 1.2}}
			set = append(set, unit{place{at: q, transfers: r.transfersFrom(q)}, Setting{LowPass: 120}})
		}
		plan, err := r.plan(t.Context(), set)
		if err != nil {
			t.Fatal(err)
		}
		share := func(m [2]int) float64 {
			i := e.Grid().Nearest(planMode(p, m))
			ways := plan.Seats[0].Units
			var sum complex128
			for _, way := range ways[:len(c.at)] {
				sum += way[i]
			}
			return cmplx.Abs(sum) / cmplx.Abs(ways[len(c.at)][i]) / float64(len(c.at))
		}
		for _, m := range c.cancels {
			if v := share(m); v > 0.1 {
				t.Errorf("%s leave %.2f of mode %v", c.name, v, m)
			}
		}
		for _, m := range c.leaves {
			if v := share(m); v < 0.7 {
				t.Errorf("%s leave only %.2f of mode %v", c.name, v, m)
			}
		}
	}
}

// Set alike and anywhere on the floor, what the search finds for a seat near the corner
// is never worse than the arrangements that cancel modes by symmetry.
func TestSearchBeatsSymmetry(t *testing.T) {
	t.Parallel()
	p, e, l := hall(t)
	s := p.Subwoofers
	s.Count, s.LowPass, s.Gain, s.Delay, s.Polarity = 4, model.Range{Min: 120, Max: 120}, model.Range{}, model.Range{}, model.NormalPolarity
	result, err := Search(context.Background(), p, e, l, Settings{Pitch: 0.25})
	if err != nil {
		t.Fatal(err)
	}
	r := tablesOf(t, p, e, l, 0.25)
	half := s.Box.Depth/2 + model.SubwooferGap
	size := p.Room.Size
	for _, c := range []struct {
		name string
		at   [][2]float64
	}{
		{"opposite wall midpoints across", [][2]float64{{size.X / 2, half}, {size.X / 2, size.Y - half}}},
		{"four wall midpoints", [][2]float64{{size.X / 2, half}, {size.X / 2, size.Y - half}, {half, size.Y / 2}, {size.X - half, size.Y / 2}}},
		{"quarter points", [][2]float64{{size.X / 4, size.Y / 4}, {size.X / 4, size.Y * 3 / 4}, {size.X * 3 / 4, size.Y / 4}, {size.X * 3 / 4, size.Y * 3 / 4}}},
	} {
		var set []unit
		for _, at := range c.at {
			q := model.SubwooferPlace{Driver: r3.Vec{X: at[0], Y: at[1], Z: s.Height}}
			set = append(set, unit{place{at: q, transfers: r.transfersFrom(q)}, Setting{LowPass: 120}})
		}
		n := min(len(set), len(result.Plans)-1)
		found := result.Plans[n].Robust
		t.Logf("%s ±%.1f dB, found with %d ±%.1f dB", c.name, r.Score(set), n, found)
		if float64(found) > r.Score(set)+0.1 {
			t.Errorf("%s give ±%.2f dB, found with %d is ±%.2f dB", c.name, r.Score(set), n, found)
		}
	}
}

// Present subwoofers get the best settings without being moved.
func TestPresentPlan(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 1
	p.Subwoofers.Placed = []r3.Vec{{X: 0.3, Y: 0.3, Z: 0.22}}
	r := search(t, p, l, Settings{})
	if r.Now == nil || r.Now.Units[0].Place.Driver != p.Subwoofers.Placed[0] {
		t.Fatalf("now is %+v", r.Now)
	}
	if r.Now.Robust < r.Plans[1].Robust-0.3 {
		t.Errorf("as it stands ±%.2f dB, the best place ±%.2f dB", r.Now.Robust, r.Plans[1].Robust)
	}
}

// A second seat counts by its weight: with all of the weight it is served better than
// with none.
func TestSearchForTwoSeats(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	p.Subwoofers.Count = 1
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.6, Y: 2.2, Z: 1}, Height: 1})
	var spread []model.Level
	for _, weight := range []float64{1e-6, 50} {
		p.Seats[1].Weight = weight
		r := search(t, p, l, Settings{})
		seats := r.Plans[1].Seats
		if len(seats) != 2 || seats[1].Name != "sofa" || math.Abs(seats[0].Weight+seats[1].Weight-1) > 1e-12 {
			t.Fatalf("seats %+v", seats)
		}
		spread = append(spread, seats[1].Judgement.Spread())
	}
	if spread[1] > spread[0]-0.5 {
		t.Errorf("the sofa has ±%.2f dB when it does not count and ±%.2f dB when it alone does", spread[0], spread[1])
	}
}

func TestSearchRefuses(t *testing.T) {
	t.Parallel()
	p, l := lounge()
	e := testroom.New(p.Room.Size)
	if _, err := Search(context.Background(), testroom.Studio(), e, l, Settings{}); err == nil || !strings.Contains(err.Error(), "no subwoofers") {
		t.Errorf("without subwoofers: %v", err)
	}
	p.Subwoofers.Zones = []model.Zone{{X: model.Range{Min: 2.2, Max: 2.6}, Y: model.Range{Min: 1.2, Max: 1.5}}}
	p.Subwoofers.Where = model.Anywhere
	if _, err := Search(context.Background(), p, e, l, Settings{}); err == nil || !strings.Contains(err.Error(), "in the way of every one") {
		t.Errorf("all places at the seat: %v", err)
	}
	ctx, stop := context.WithCancel(context.Background())
	p, l = lounge()
	r, err := Search(ctx, p, e, l, Settings{Pitch: 0.4, Progress: func(string, float64) { stop() }})
	if !errors.Is(err, context.Canceled) || len(r.Plans) != 2 {
		t.Errorf("stopped after the first: %v, %d plans", err, len(r.Plans))
	}
	if !slices.ContainsFunc(r.Warnings, func(w model.Warning) bool { return strings.Contains(fmt.Sprint(w), "room for tests") }) {
		t.Errorf("the engine's doubts are lost: %v", r.Warnings)
	}
}
