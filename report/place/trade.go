package place

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Size of the drawing of a trade-off and its margins, in its own unit.
const (
	tradeWidth, tradeHeight = 350.0, 280.0 // no wider than a phone
	tradeLeft, tradeRight   = 46.0, 16.0
	tradeTop, tradeBottom   = 16.0, 42.0
	axisName                = 20 // columns of a seat's name
)

// trade maps spreads to the drawing: the main seat to the right, the others up.
type trade struct {
	low, high [2]float64 // dB
}

func (t trade) At(main, rest model.Level) svg.Point {
	share := func(v model.Level, i int) float64 { return (float64(v) - t.low[i]) / (t.high[i] - t.low[i]) }
	return svg.XY(tradeLeft+share(main, 0)*(tradeWidth-tradeLeft-tradeRight), tradeHeight-tradeBottom-share(rest, 1)*(tradeHeight-tradeTop-tradeBottom))
}

// newTrade draws the trade-off with the layouts found and the present one: one axis for
// the main seat, one for the others.
func newTrade(r *optimize.Result) *svg.Drawing {
	main, rest := text.Printable(r.Candidates[0].Seats[0].Name), restName(r)
	d := &svg.Drawing{
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
		line = append(line, command, t.At(p.Main, p.Rest))
	}
	d.Path("outline", line...)
	for i, p := range r.Front {
		at := t.At(p.Main, p.Rest)
		d.Circle("mark", at, 3)
		d.Keep(svg.RectAt(at.X-4, at.Y-4, 8, 8))
		d.Label("letter", at, text.LetterName(i), svg.Around(11, 3))
	}
	for i := range r.Candidates {
		drawCandidate(d, t, "cabinet", fmt.Sprintf("%d", i+1), &r.Candidates[i])
	}
	if r.Now != nil {
		drawCandidate(d, t, "now", "now", r.Now)
	}
	d.Key = append(d.Key, svg.KeyEntry{Letter: "a, b, ...", Text: "the trade-off, as in the table"}, svg.KeyEntry{Letter: "1, 2, ...", Text: "the layouts offered"})
	return d
}

// drawCandidate draws a layout as a ring with its name.
func drawCandidate(d *svg.Drawing, t trade, class, name string, c *score.Candidate) {
	at := t.At(c.Robust, restSpread(c))
	d.Circle(class, at, 5)
	d.Keep(svg.RectAt(at.X-5, at.Y-5, 10, 10))
	d.Label("dimtext", at, name, svg.Around(14, 3))
}

// restSpread returns what counts at the seats beside the main one, weighted.
func restSpread(c *score.Candidate) model.Level {
	var sum, share float64
	for _, f := range c.Seats[1:] {
		sum += f.Weight * float64(f.Counted)
		share += f.Weight
	}
	return model.Level(sum / share)
}

// newTradeScale returns axes in whole decibels that hold all points.
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

// drawAxes draws the axes with a mark every decibel, fewer on a long axis, and their names.
func drawAxes(d *svg.Drawing, t trade, main, rest string) {
	corner := t.At(model.Level(t.low[0]), model.Level(t.low[1]))
	right := t.At(model.Level(t.high[0]), model.Level(t.low[1]))
	top := t.At(model.Level(t.low[0]), model.Level(t.high[1]))
	d.Line("dim", corner, right)
	d.Line("dim", corner, top)
	for i, low := range t.low {
		step := math.Ceil((t.high[i] - low) / 8)
		for v := low; v <= t.high[i]; v += step {
			if i == 0 {
				at := t.At(model.Level(v), model.Level(t.low[1]))
				d.Line("dim", at, svg.XY(at.X, at.Y+4))
				d.Text("dimtext", svg.XY(at.X, at.Y+13), "±"+unit.Decimal(v, 0))
			} else {
				at := t.At(model.Level(t.low[0]), model.Level(v))
				d.Line("dim", at, svg.XY(at.X-4, at.Y))
				d.Text("dimtext", svg.XY(at.X-17, at.Y), "±"+unit.Decimal(v, 0))
			}
		}
	}
	d.Text("dimtext", svg.XY((corner.X+right.X)/2, corner.Y+31), "spread at "+text.Shortened(main, axisName)+", dB")
	d.Shapes = append(d.Shapes, svg.Shape{
		Kind: "text", Class: "dimtext", X: 10, Y: svg.Px((corner.Y + top.Y) / 2), Text: "spread at " + text.Shortened(rest, axisName) + ", dB", Upright: true,
	})
}
