package score

import (
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/response"

	"gonum.org/v1/gonum/spatial/r3"
)

// Figures are those of the room's transfer times the speakers' complex response. A sealed box
// with its limit at 45 Hz is 10 lg(1+1.5⁴) = 7.83 dB down at 30 Hz, a ported one 14.3 dB.
func TestSpeakersShapeFigures(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 4.3, Y: 3.1, Z: 2.4}, Air: model.AirAt(0)}
	for _, f := range model.Faces {
		box.Walls[f] = model.Plain(0.05)
	}
	e, err := mode.New(box, model.NewGrid(20, 315, 96, 1), mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
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
