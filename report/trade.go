package report

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/optimize"
)

// Size of the drawing of a front and its margins, in its own unit.
const (
	tradeWidth, tradeHeight = 420.0, 300.0
	tradeLeft, tradeRight   = 46.0, 16.0
	tradeTop, tradeBottom   = 16.0, 42.0
)

// trade maps spreads to the drawing: the main seat to the right, the others up.
type trade struct {
	low, high [2]float64 // dB
}

func (t trade) at(main, rest model.Level) point {
	share := func(v model.Level, i int) float64 { return (float64(v) - t.low[i]) / (t.high[i] - t.low[i]) }
	return xy(tradeLeft+share(main, 0)*(tradeWidth-tradeLeft-tradeRight), tradeHeight-tradeBottom-share(rest, 1)*(tradeHeight-tradeTop-tradeBottom))
}

// newTrade draws the front with the layouts offered and the present one, one axis for
// the main seat and one for the others.
func newTrade(r *optimize.Result) *drawing {
	main, rest := printable(r.Candidates[0].Seats[0].Name), restName(r)
	d := &drawing{
		ID: "trade", Width: tradeWidth, Height: tradeHeight,
		Title: fmt.Sprintf("Spread at %s and at %s", main, rest),
		Desc:  fmt.Sprintf("%d layouts; no other layout tried is better at both. The table lists them.", len(r.Front)),
	}
	t := newTradeScale(r)
	drawAxes(d, t, main, rest)
	var line []any
	for i, p := range r.Front {
		command := " L"
		if i == 0 {
			command = "M"
		}
		line = append(line, command, t.at(p.Main, p.Rest))
	}
	d.path("outline", line...)
	for i, p := range r.Front {
		at := t.at(p.Main, p.Rest)
		d.circle("mark", at, 3)
		d.keep(rectAt(at.x-4, at.y-4, 8, 8))
		d.label("letter", at, letterName(i), around(11, 3))
	}
	for i := range r.Candidates {
		drawCandidate(d, t, "cabinet", fmt.Sprintf("%d", i+1), &r.Candidates[i])
	}
	if r.Now != nil {
		drawCandidate(d, t, "now", "now", r.Now)
	}
	d.Key = append(d.Key, keyEntry{Letter: "a, b, ...", Text: "the trade-off, as in the table"}, keyEntry{Letter: "1, 2, ...", Text: "the layouts offered"})
	return d
}

// drawCandidate draws a layout as a ring with its name.
func drawCandidate(d *drawing, t trade, class, name string, c *optimize.Candidate) {
	at := t.at(c.Robust, restSpread(c))
	d.circle(class, at, 5)
	d.keep(rectAt(at.x-5, at.y-5, 10, 10))
	d.label("dimtext", at, name, around(14, 3))
}

// restSpread returns what counts at the seats beside the main one, weighted.
func restSpread(c *optimize.Candidate) model.Level {
	var sum, share float64
	for _, f := range c.Seats[1:] {
		sum += f.Weight * float64(f.Counted)
		share += f.Weight
	}
	return model.Level(sum / share)
}

// newTradeScale returns whole decibels about all that is drawn.
func newTradeScale(r *optimize.Result) trade {
	t := trade{low: [2]float64{math.Inf(1), math.Inf(1)}, high: [2]float64{math.Inf(-1), math.Inf(-1)}}
	hold := func(main, rest model.Level) {
		for i, v := range []model.Level{main, rest} {
			t.low[i], t.high[i] = min(t.low[i], math.Floor(float64(v))), max(t.high[i], math.Ceil(float64(v)))
		}
	}
	for _, p := range r.Front {
		hold(p.Main, p.Rest)
	}
	for i := range r.Candidates {
		hold(r.Candidates[i].Robust, restSpread(&r.Candidates[i]))
	}
	if r.Now != nil {
		hold(r.Now.Robust, restSpread(r.Now))
	}
	for i := range t.low {
		t.high[i] = max(t.high[i], t.low[i]+1)
	}
	return t
}

// drawAxes draws a mark a decibel, or every other one on a long axis, and what they are.
func drawAxes(d *drawing, t trade, main, rest string) {
	corner := t.at(model.Level(t.low[0]), model.Level(t.low[1]))
	right := t.at(model.Level(t.high[0]), model.Level(t.low[1]))
	top := t.at(model.Level(t.low[0]), model.Level(t.high[1]))
	d.line("dim", corner, right)
	d.line("dim", corner, top)
	for i, low := range t.low {
		step := math.Ceil((t.high[i] - low) / 8)
		for v := low; v <= t.high[i]; v += step {
			if i == 0 {
				at := t.at(model.Level(v), model.Level(t.low[1]))
				d.line("dim", at, xy(at.x, at.y+4))
				d.text("dimtext", xy(at.x, at.y+13), "±"+decimal(v, 0))
			} else {
				at := t.at(model.Level(t.low[0]), model.Level(v))
				d.line("dim", at, xy(at.x-4, at.y))
				d.text("dimtext", xy(at.x-17, at.y), "±"+decimal(v, 0))
			}
		}
	}
	d.text("dimtext", xy((corner.x+right.x)/2, corner.y+31), "spread at "+main+", dB")
	d.Shapes = append(d.Shapes, shape{
		Kind: "text", Class: "dimtext", X: 10, Y: px((corner.y + top.y) / 2), Text: "spread at " + rest + ", dB", Upright: true,
	})
}
