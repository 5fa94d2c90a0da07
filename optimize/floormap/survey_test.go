package floormap

import (
	"context"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// facing is a layout of the studio that is symmetric about its mid-line.
func facing(p *model.Project) model.Layout {
	y := p.Room.Size.Y / 2
	return model.Layout{
		Left: r3.Vec{X: 0.7, Y: y - 0.7, Z: 1}, Right: r3.Vec{X: 0.7, Y: y + 0.7, Z: 1},
		Seat: r3.Vec{X: 1.9, Y: y, Z: 1.2}, AxisHeight: 1.1,
	}
}

func surveyOf(t *testing.T, p *model.Project, e model.Engine, l model.Layout, s Settings) *Survey {
	t.Helper()
	v, err := New(context.Background(), p, e, l, true, s)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// By reciprocity a map's value is what a prediction for that seat gives: with the exact
// engine of a box within 0.05 dB, everywhere on the floor.
func TestSurveyIsWhatPredictionsGive(t *testing.T) {
	t.Parallel()
	p, e := testroom.ByModes(t)
	l := facing(p)
	v := surveyOf(t, p, e, l, Settings{Pitch: 0.4})
	plain := score.NewScorer(e, p, 0).Plain
	check := func(m *Spread, n int, o model.Layout) {
		t.Helper()
		want, err := plain(t.Context(), o)
		if err != nil {
			t.Fatal(err)
		}
		if got := m.Spread[n]; math.Abs(float64(got-want)) > 0.05 {
			t.Errorf("%s at %v: the map says %.3f dB, a prediction %.3f dB", m.Moved, m.Place(n), got, want)
		}
	}
	for n := 3; n < v.Chair.Len(); n += 17 {
		o := l
		o.Seat = v.Chair.Place(n)
		check(&v.Chair, n, o)
	}
	check(&v.Around[0], v.Around[0].Len()/2, l)
	check(&v.Around[1], v.Around[1].Len()/2, l)
	corner := l
	corner.Left, corner.Right = r3.Vec{X: 0.4, Y: l.Left.Y - 0.3, Z: 1}, r3.Vec{X: 0.4, Y: l.Right.Y + 0.3, Z: 1}
	check(&v.Around[1], 0, corner)
	if want, err := score.Evaluate(t.Context(), p, e, l, 0); err != nil || math.Abs(float64(v.Here-want.Judgement.Spread())) > 0.05 {
		t.Errorf("the layout itself has %.3f dB, predicted is %.3f dB (%v)", v.Here, want.Judgement.Spread(), err)
	}
}

// cornered is a small room round a corner, with an engine that answers for its floor.
func cornered(t *testing.T) (*model.Project, model.Layout, *wave.Room, *wave.Room) {
	t.Helper()
	p := &model.Project{
		Room: model.Room{
			Size:    r3.Vec{X: 2.0, Y: 1.8, Z: 1.7},
			Outline: model.Polygon{{}, {X: 2}, {X: 2, Y: 1.2}, {X: 1.5, Y: 1.2}, {X: 1.5, Y: 1.8}, {Y: 1.8}},
		},
		Seats: []model.Seat{{Height: 1}}, Goal: model.Goal{From: 50, To: 200, Smoothing: 12},
	}
	for i := range p.Room.Walls {
		p.Room.Walls[i].Impedance = 12
	}
	l := model.Layout{Left: r3.Vec{X: 0.35, Y: 0.4, Z: 0.9}, Right: r3.Vec{X: 0.35, Y: 1.4, Z: 0.9}, Seat: r3.Vec{X: 1.2, Y: 0.9, Z: 1}}
	engine := func(zones ...model.Block) *wave.Room {
		e, err := wave.NewRoom(&p.Room, material.Typical, model.NewGrid(40, 220, 24, 4), wave.Settings{Zones: zones})
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	at := func(v r3.Vec) model.Block {
		d := r3.Vec{X: Reach, Y: Reach}
		return model.Block{Min: r3.Sub(v, d), Max: r3.Add(v, d)}
	}
	ears := model.Block{Min: r3.Vec{Z: 1}, Max: r3.Vec{X: 2, Y: 1.8, Z: 1}}
	return p, l, engine(ears, at(l.Left), at(l.Right)), engine(at(l.Left), at(l.Right))
}

// The same by the wave solver within 0.2 dB, in a room round a corner; what is not floor
// is blank there, and everything else is not.
func TestSurveyByWave(t *testing.T) {
	t.Parallel()
	p, l, floor, ahead := cornered(t)
	v := surveyOf(t, p, floor, l, Settings{Pitch: 0.15})
	for _, n := range []int{v.Chair.Nearest(r3.Vec{X: 1.1, Y: 0.9}), v.Chair.Nearest(r3.Vec{X: 1.8, Y: 0.3}), v.Chair.Nearest(r3.Vec{X: 0.9, Y: 1.6})} {
		o := l
		o.Seat = v.Chair.Place(n)
		field, err := ahead.Field(t.Context(), o.Seat)
		if err != nil {
			t.Fatal(err)
		}
		r := response.NewReader(ahead.Grid(), ahead.Air(), p.Goal)
		want := r.Judge(response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}).Spread()
		if got := v.Chair.Spread[n]; math.Abs(float64(got-want)) > 0.2 {
			t.Errorf("at %v: the map says %.3f dB, a run from there %.3f dB", o.Seat, got, want)
		}
	}
	blank := 0
	for n := range v.Chair.Len() {
		at := v.Chair.Place(n)
		notch := at.X > 1.5 && at.Y > 1.2
		if notch == v.Chair.Open(n) {
			t.Errorf("at %v: in the notch %v, open %v", at, notch, v.Chair.Open(n))
		}
		if level := v.Levels.At(response.BothTogether, n, 0); notch != math.IsNaN(float64(level)) {
			t.Errorf("at %v: in the notch %v, level %v", at, notch, level)
		}
		if notch {
			blank++
		}
	}
	if blank == 0 {
		t.Error("no place of the lattice is in the notch")
	}
}

// A room that is symmetric has symmetric maps: the spread and the level of both
// together, and the left speaker's level mirrors the right one's.
func TestSurveySymmetry(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	v := surveyOf(t, p, testroom.New(p.Room.Size), facing(p), Settings{Pitch: 0.2})
	columns := len(v.Chair.Y)
	if columns%2 == 0 || math.Abs(v.Chair.Y[columns/2]-p.Room.Size.Y/2) > 1e-3 {
		t.Fatalf("%d columns, the middle one at %v: none lies on the mid-line", columns, v.Chair.Y[columns/2])
	}
	for n := range v.Chair.Len() {
		mirror := n - n%columns + columns - 1 - n%columns
		if d := v.Chair.Spread[n] - v.Chair.Spread[mirror]; math.Abs(float64(d)) > 0.02 {
			t.Errorf("spreads %v and %v at %v", v.Chair.Spread[n], v.Chair.Spread[mirror], v.Chair.Place(n))
		}
		for i := range v.Levels.Grid {
			l, r := v.Levels.At(response.LeftAlone, n, i), v.Levels.At(response.RightAlone, mirror, i)
			if math.Abs(float64(l-r)) > 0.05 && l > -25 {
				t.Errorf("at %v, %.1f Hz: left %.2f dB, right mirrored %.2f dB", v.Chair.Place(n), v.Levels.Grid[i], l, r)
			}
		}
	}
	if len(v.Around) != 2 || v.Around[1].Moved != Pair {
		t.Errorf("%d maps about the marks, want the chair's and the pair's", len(v.Around))
	}
}

// At the frequency of the first mode along the room the quietest place is where that
// mode has no pressure, in the middle of the length, and the loudest at an end (mode
// shape cos(πx/L): Kuttruff, Room Acoustics, section 3.2).
func TestLevelMapShowsTheFirstMode(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	f := e.Air().Speed / 2 / p.Room.Size.X
	v := surveyOf(t, p, e, facing(p), Settings{Frequencies: model.Grid{f}})
	i := v.Levels.Grid.Nearest(f)
	quiet, loud, ok := v.Levels.Extremes(response.BothTogether, i)
	if !ok {
		t.Fatal("the map is blank")
	}
	if x := v.Levels.Place(quiet).X; math.Abs(x-p.Room.Size.X/2) > 0.25 {
		t.Errorf("at %.1f Hz it is quietest %.2f m from the front wall of a room of %.2f m", f, x, p.Room.Size.X)
	}
	if x := v.Levels.Place(loud).X; min(x, p.Room.Size.X-x) > 0.35 {
		t.Errorf("at %.1f Hz it is loudest %.2f m from the front wall of a room of %.2f m", f, x, p.Room.Size.X)
	}
}

// At each frequency the levels of a channel have the power mean 1 over the floor, and
// the means have it over the band, as far as two dozen frequencies tell.
func TestLevelMapIsAboutItsMean(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	v := surveyOf(t, p, testroom.New(p.Room.Size), facing(p), Settings{Pitch: 0.2})
	m := &v.Levels
	for _, c := range response.Channels {
		var band float64
		for i := range m.Grid {
			band += m.Means[c][i].Power()
			var sum float64
			for n := range m.Len() {
				sum += m.At(c, n, i).Power()
			}
			if mean := sum / float64(m.Len()); math.Abs(mean-1) > 1e-9 {
				t.Errorf("%v at %.1f Hz: the mean of the map is %v", c, m.Grid[i], mean)
			}
		}
		if mean := model.PowerLevel(band / float64(len(m.Grid))); math.Abs(float64(mean)) > 1.5 {
			t.Errorf("%v: the mean over the band is %.2f dB", c, mean)
		}
	}
}

// Places that break a rule say which, and a rule that the speakers break by themselves
// forbids none.
func TestSurveyRules(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	p.Room.Size.Y = 4
	p.Speakers.Apart = model.Range{Min: 1.6, Max: 2}
	p.KeepClear = []model.Block{{Name: "stove", Min: r3.Vec{X: 1.5, Y: 0.5}, Max: r3.Vec{X: 2.5, Y: 1.2, Z: 2}}}
	v := surveyOf(t, p, testroom.New(p.Room.Size), facing(p), Settings{})
	if len(v.Chair.Anyway) != 1 || v.Chair.Anyway[0].Kind != model.SpeakersNear {
		t.Errorf("broken wherever the chair is: %v", v.Chair.Anyway)
	}
	allowed := 0
	for n := range v.Chair.Len() {
		o := facing(p)
		o.Seat = v.Chair.Place(n)
		broken := p.Breaches(o)
		if v.Chair.Allowed(n) {
			allowed++
		}
		if v.Chair.Allowed(n) != (len(broken) == 1) {
			t.Errorf("at %v: allowed %v, but %v", o.Seat, v.Chair.Allowed(n), broken)
		}
	}
	if allowed == 0 {
		t.Error("the chair may be nowhere")
	}
	if at := v.Chair.Nearest(r3.Vec{X: 2, Y: 0.9}); v.Chair.Rule[at] == (model.Rule{}) {
		t.Error("the chair may be in the stove")
	}
}

// What stands in the room is blank, on plan and by height.
func TestInAir(t *testing.T) {
	t.Parallel()
	room := &model.Room{
		Size:   r3.Vec{X: 4, Y: 3, Z: 2.4},
		Slopes: []model.Slope{{Through: [3]r3.Vec{{Z: 1}, {X: 1, Z: 1}, {Y: 1, Z: 2}}}},
		Blocks: []model.Block{{Min: r3.Vec{X: 2, Y: 2}, Max: r3.Vec{X: 3, Y: 3, Z: 1}}},
		Treatments: []model.Treatment{{
			Form: model.FreeStanding, Box: model.Block{Min: r3.Vec{X: 3.5, Y: 1}, Max: r3.Vec{X: 3.6, Y: 2, Z: 2}},
		}},
	}
	for _, c := range []struct {
		at   r3.Vec
		want bool
	}{
		{r3.Vec{X: 1, Y: 1, Z: 1.2}, true},
		{r3.Vec{X: 1, Y: 0.1, Z: 1.2}, false}, // under the slope it is 1.1 m high
		{r3.Vec{X: 2.5, Y: 2.5, Z: 0.9}, false},
		{r3.Vec{X: 2.5, Y: 2.5, Z: 1.2}, true}, // above the block
		{r3.Vec{X: 3.55, Y: 1.5, Z: 1.2}, false},
		{r3.Vec{X: 4.1, Y: 1.5, Z: 1.2}, false},
		{r3.Vec{X: 1, Y: 1, Z: 2.5}, false},
	} {
		if got := InAir(room, c.at); got != c.want {
			t.Errorf("%v: %v", c.at, got)
		}
	}
	room.Outline = model.Polygon{{}, {X: 4}, {X: 4, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 3}, {Y: 3}}
	if InAir(room, r3.Vec{X: 3.9, Y: 2.9, Z: 0.5}) || !room.Outline.Contains(r2.Vec{X: 1, Y: 1}) {
		t.Error("the notch of the outline is air")
	}
}

// Without a seat the best allowed place is taken for it.
func TestSurveyWithoutSeat(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	l := facing(p)
	l.Seat = r3.Vec{Z: 1.2}
	v, err := New(context.Background(), p, testroom.New(p.Room.Size), l, false, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	best, ok := v.Chair.Best(v.Chair.Allowed)
	if !ok || v.Layout.Seat != v.Chair.Place(best) || v.HasSeat {
		t.Errorf("the seat is %v, the best place %v", v.Layout.Seat, v.Chair.Place(best))
	}
	if d := v.Here - v.Chair.Spread[best]; math.Abs(float64(d)) > 1e-9 {
		t.Errorf("the spread there is %v, on the map %v", v.Here, v.Chair.Spread[best])
	}
}

// Free speakers have a map each.
func TestSurveyOfFreeSpeakers(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	p.Speakers.Free = true
	v := surveyOf(t, p, testroom.New(p.Room.Size), facing(p), Settings{Pitch: 0.5})
	var moved []Moved
	for i := range v.Around {
		moved = append(moved, v.Around[i].Moved)
	}
	if d := cmp.Diff([]Moved{Chair, LeftSpeaker, RightSpeaker}, moved); d != "" {
		t.Error(d)
	}
}

// What cannot be mapped is an error that says why.
func TestSurveyRefuses(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, c := range []struct {
		what   string
		ctx    context.Context
		change func(p *model.Project, l *model.Layout, s *Settings)
		want   string
	}{
		{"frequency", context.Background(), func(_ *model.Project, _ *model.Layout, s *Settings) { s.Frequencies = model.Grid{400} }, "no map at 400 Hz: the engine answers from 25 to 225 Hz"},
		{"speaker", context.Background(), func(_ *model.Project, l *model.Layout, _ *Settings) { l.Right.Y = 9 }, "the right speaker at 0.70, 9.00, 1.00 m is not in the room's air"},
		{"seat", context.Background(), func(_ *model.Project, l *model.Layout, _ *Settings) { l.Seat.X = -1 }, "the seat at -1.00"},
		{"goal", context.Background(), func(p *model.Project, _ *model.Layout, _ *Settings) { p.Goal.To = 900 }, "the goal is"},
		{"stopped", stopped, func(*model.Project, *model.Layout, *Settings) {}, "context canceled"},
	} {
		q, l, s := *p, facing(p), Settings{Pitch: 0.5}
		c.change(&q, &l, &s)
		_, err := New(c.ctx, &q, e, l, true, s)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.what, err)
		}
		if c.what == "stopped" && !errors.Is(err, context.Canceled) {
			t.Errorf("stopped: %v", err)
		}
	}
}

// The same survey on one core and on several, to the last digit.
func TestSurveyRepeats(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	var all []*Survey
	for _, cores := range []int{1, 3} {
		old := runtime.GOMAXPROCS(cores)
		all = append(all, surveyOf(t, p, e, facing(p), Settings{Pitch: 0.3}))
		runtime.GOMAXPROCS(old)
	}
	if d := cmp.Diff(all[0], all[1]); d != "" {
		t.Error(d)
	}
}
