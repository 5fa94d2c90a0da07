package series

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
)

// Accuracy is the largest error that a smoothed level read off a table may have, dB, down to
// [Depth] below the mean of its curve. Deeper down a dip rests on the difference of nearly equal
// waves.
const (
	Accuracy model.Level = 0.1
	Depth    model.Level = 20
)

// Off returns the largest error of smoothed levels, as [Accuracy] counts them, of each speaker
// and of both together, for pairs scattered over the zones and one seat, with a reader over the
// table's grid. Its error is that of the engine.
func (t *Table) Off(ctx context.Context, e model.Engine, reader *response.Reader, seat r3.Vec) (model.Level, error) {
	exact, err := e.Field(ctx, seat)
	if err != nil {
		return 0, err
	}
	packed, err := t.Field(ctx, seat)
	if err != nil {
		return 0, err
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var worst model.Level
	for range 12 {
		left, right := t.place(0, rng), t.place(len(t.Domain.Sources)-1, rng)
		if r3.Norm(r3.Sub(left, seat)) < model.LeastDistance || r3.Norm(r3.Sub(right, seat)) < model.LeastDistance {
			continue
		}
		want := reader.Judge(response.Pair{Left: exact.Transfer(nil, left), Right: exact.Transfer(nil, right)})
		got := reader.Judge(response.Pair{Left: packed.Transfer(nil, left), Right: packed.Transfer(nil, right)})
		worst = max(worst, Difference(t.grid, &want, &got))
	}
	return worst, nil
}

// place returns a place of woofers in an area, often at its edge.
func (t *Table) place(area int, rng *rand.Rand) r3.Vec {
	within := func(s geometry.Span) float64 { return s.Lo + max(0, min(1, 1.5*rng.Float64()-0.25))*s.Length() }
	a := t.Domain.Sources[area]
	return r3.Vec{X: within(a.X), Y: within(a.Y), Z: t.Domain.Heights[rng.IntN(len(t.Domain.Heights))]}
}

// Difference returns the largest difference of two judgements' smoothed levels over a grid, as
// [Accuracy] counts them.
func Difference(grid model.Grid, want, got *response.Judgement) model.Level {
	var worst model.Level
	for c, curve := range want.Curves {
		f := &want.Figures[c]
		for i, l := range curve {
			if grid[i] >= f.Goal.From && grid[i] <= f.Goal.To && l >= f.Mean-Depth {
				worst = max(worst, model.Level(math.Abs(float64(l-got.Curves[c][i]))))
			}
		}
	}
	return worst
}
