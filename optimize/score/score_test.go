package score

import (
	"context"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/mode/modetest"
	"evenbass/model/response"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Steadiness is the plain mean of thirteen judgements, each made from scratch, with the worst of
// the four leans; the robust spread takes three quarters of one and a quarter of the other.
func TestSteadiness(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	s := NewScorer(e, p, 0.05)
	l := model.Layout{Left: r3.Vec{X: 0.5, Y: 0.8, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.2, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.5, Z: 1.2}}
	var want Steadiness
	for mark := range 3 {
		off := []float64{0.05, 0.05, 0.10}[mark]
		for way, d := range []r3.Vec{{}, {X: -off}, {X: off}, {Y: -off}, {Y: off}} {
			if mark > 0 && way == 0 {
				continue
			}
			m := l
			at := []*r3.Vec{&m.Left, &m.Right, &m.Seat}[mark]
			*at = r3.Add(*at, d)
			pair, err := s.Pair(t.Context(), m)
			if err != nil {
				t.Fatal(err)
			}
			spread := reader.Judge(pair).Spread()
			want.Mean += spread / 13
			if mark == 2 && spread > want.Leaning {
				want.Leaning, want.Lean = spread, Lean(way)
			}
		}
	}
	got, err := s.Steadiness(t.Context(), l)
	if err != nil || got.Lean != want.Lean || math.Abs(float64(got.Mean-want.Mean)) > 1e-9 || math.Abs(float64(got.Leaning-want.Leaning)) > 1e-9 {
		t.Errorf("got %+v, want %+v (%v)", got, want, err)
	}
	robust, err := s.Robust(t.Context(), l)
	if math.Abs(float64(robust-(0.75*want.Mean+0.25*want.Leaning))) > 1e-9 || err != nil {
		t.Errorf("robust %v dB of %+v (%v)", robust, want, err)
	}
}

// Places given in inches are no whole tenths of a millimetre; an engine for one layout
// knows the marks as they are given.
func TestAroundKeepsThePlaceItself(t *testing.T) {
	s := &Scorer{Shift: 0.05, Size: r3.Vec{X: 4, Y: 3, Z: 2.5}}
	rapid.Check(t, func(t *rapid.T) {
		v := r3.Vec{X: rapid.Float64Range(0, 4).Draw(t, "x"), Y: rapid.Float64Range(0, 3).Draw(t, "y"), Z: 1.05}
		if got := s.Displaced(v); got[0] != v {
			t.Fatalf("the middle of %v is %v", v, got[0])
		}
	})
}

// No displacement goes through a wall.
func TestDisplacementsStayInside(t *testing.T) {
	s := Scorer{Shift: 0.05, Size: r3.Vec{X: 4, Y: 3, Z: 2}}
	for _, v := range s.Displaced(r3.Vec{X: 0.02, Y: 2.99, Z: 1}) {
		if v.X < 0 || v.Y > 3 {
			t.Errorf("displaced to %v", v)
		}
	}
}

// silent is an engine that hears nothing, so that no spread exists.
type silent struct{ *testroom.Cosine }

func (e silent) Field(_ context.Context, _ r3.Vec) (model.Field, error) {
	return silentField{len(e.Grid())}, nil
}

type silentField struct{ n int }

func (f silentField) Transfer(dst []complex128, _ r3.Vec) []complex128 {
	dst = model.Transfers(dst, f.n)
	clear(dst)
	return dst
}

func TestNoSpreadIsAnError(t *testing.T) {
	p := testroom.Studio()
	if _, err := Evaluate(t.Context(), p, silent{testroom.New(p.Room.Size)}, model.Layout{Seat: r3.Vec{X: 2}}, 0); err == nil {
		t.Error("a layout without any sound was given a spread")
	}
}

func TestDoubleGrid(t *testing.T) {
	t.Parallel()
	a, b := model.DefaultGrid(), response.DecayGrid()
	both, inA, inB := doubleGrid(a, b)
	for i, k := range inA {
		if math.Abs(both[k]-a[i]) > 1e-9 {
			t.Fatalf("%v of the first grid became %v", a[i], both[k])
		}
	}
	for i, k := range inB {
		if math.Abs(both[k]-b[i]) > 1e-9 {
			t.Fatalf("%v of the second grid became %v", b[i], both[k])
		}
	}
	if !slices.IsSorted(both) || len(both) > len(a)+len(b) || len(both) < len(b)+1 {
		t.Errorf("%d frequencies of %d and %d", len(both), len(a), len(b))
	}
}

// A reader over the band alone gives the same spread as one over the whole grid.
func TestBandGivesSameSpread(t *testing.T) {
	room := testroom.New(testroom.Studio().Room.Size)
	rapid.Check(t, func(t *rapid.T) {
		goal := model.Goal{From: rapid.Float64Range(26, 60).Draw(t, "from"), To: rapid.Float64Range(80, 220).Draw(t, "to"), Smoothing: rapid.SampledFrom([]int{1, 3, 12, 48}).Draw(t, "b")}
		b, err := NewBand(room, goal)
		if err != nil {
			t.Fatal(err)
		}
		seat, left, right := r3.Vec{X: 2, Y: 1.5, Z: 1.2}, r3.Vec{X: 0.5, Y: 0.8, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}
		var spreads [2]model.Level
		for i, e := range []model.Engine{b, room} {
			p, err := (&Scorer{Engine: e}).Pair(context.Background(), model.Layout{Left: left, Right: right, Seat: seat})
			if err != nil {
				t.Fatal(err)
			}
			spreads[i] = response.NewReader(e.Grid(), e.Air(), goal).Spread(p, new(response.Scratch))
		}
		if math.Abs(float64(spreads[0]-spreads[1])) > 1e-9 {
			t.Fatalf("%v: band %v dB, whole %v dB", goal, spreads[0], spreads[1])
		}
	})
}

func TestBandNeedsGrid(t *testing.T) {
	room := testroom.New(testroom.Studio().Room.Size)
	for _, g := range []model.Goal{{}, {From: 30, To: 300, Smoothing: 12}, {From: 10, To: 200, Smoothing: 12}, {From: 100, To: 101, Smoothing: 12}, {From: 30, To: 200}} {
		if _, err := NewBand(room, g); err == nil {
			t.Errorf("goal %v was accepted", g)
		}
	}
}

// Figures are those of the room's transfer times the speakers' complex response. A sealed box
// with its limit at 45 Hz is 10 lg(1+1.5⁴) = 7.83 dB down at 30 Hz, a ported one 14.3 dB.
func TestSpeakersShapeFigures(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 4.3, Y: 3.1, Z: 2.4}, Air: model.AirAt(0)}
	for _, f := range model.Faces {
		box.Walls[f] = model.Plain(0.05)
	}
	e := modetest.Engine(t, box, model.NewGrid(20, 315, 96, 1))
	l := model.Layout{Left: r3.Vec{X: 0.5, Y: 0.9, Z: 1}, Right: r3.Vec{X: 0.5, Y: 2.2, Z: 1}, Seat: r3.Vec{X: 1.7, Y: 1.5, Z: 1.2}}
	p := &model.Project{Room: model.Room{Size: box.Size}, Goal: model.Goal{From: 30, To: 200, Smoothing: 12}}
	flat := NewReader(e, p)
	pair, err := PairAt(t.Context(), e, l)
	if err != nil {
		t.Fatal(err)
	}
	for alignment, down := range map[model.Alignment]float64{model.Sealed: 7.83, model.Ported: 14.26} {
		p.Speakers.LowLimit, p.Speakers.Alignment = 45, alignment
		c, err := Evaluate(t.Context(), p, e, l, 0)
		if err != nil {
			t.Fatal(err)
		}
		want := flat.Judge(pair.Through(p.Speakers.RollOff(), e.Grid()))
		if d := float64(c.Judgement.Spread() - want.Spread()); math.Abs(d) > 0.02 {
			t.Errorf("%v: spread %v, of the shaped transfer %v", alignment, c.Judgement.Spread(), want.Spread())
		}
		at := e.Grid().Nearest(30)
		raw := NewReader(e, p).Raw(pair.Left)[at] - flat.Raw(pair.Left)[at]
		if f := e.Grid()[at]; math.Abs(float64(raw)+down) > 0.05+0.5*math.Abs(f-30) {
			t.Errorf("%v: %v dB at %.2f Hz, want -%v", alignment, raw, f, down)
		}
		var w response.Scratch
		if s := NewScorer(e, p, 0).Reader.Spread(pair, &w); math.Abs(float64(s-c.Judgement.Spread())) > 1e-9 {
			t.Errorf("%v: a search sees %v, the figures say %v", alignment, s, c.Judgement.Spread())
		}
	}
}
