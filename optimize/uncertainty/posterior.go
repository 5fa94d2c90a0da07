package uncertainty

import (
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/surface"
)

// TrialsOf returns n random trials of a room. In a calibrated room, walls and sizes vary only as
// far as its measurements left them uncertain, with the correlations of the fit. All else varies as
// in [Trials]. The same seed gives the same trials.
func TrialsOf(room *model.Room, n int, seed int64) []Trial {
	list := Trials(n, seed)
	c := room.Calibration
	if c == nil {
		return list
	}
	lower := factor(c)
	rng := rand.New(rand.NewPCG(uint64(seed), 0x6669747465640000))
	for i := range list {
		list[i].posterior(room, lower, rng)
	}
	return list
}

// mostDeviations bounds a draw, in standard deviations.
const mostDeviations = 2.5

// posterior draws what a calibration left uncertain.
func (d *Trial) posterior(room *model.Room, lower *mat.TriDense, rng *rand.Rand) {
	independent := mat.NewVecDense(model.FittedFigures, nil)
	for k := range model.FittedFigures {
		independent.SetVec(k, rng.NormFloat64())
	}
	var z mat.VecDense
	z.MulVec(lower, independent)
	for _, f := range model.Faces {
		if room.Walls[f].Fit.Set() {
			d.Walls[f] = max(-1, min(1, z.AtVec(int(f))/surface.RangeDeviations))
		}
	}
	size := func(axis int) float64 {
		return room.Calibration.Size[axis].Deviation * max(-mostDeviations, min(mostDeviations, z.AtVec(6+axis)))
	}
	d.Size = r3.Vec{X: size(0), Y: size(1), Z: size(2)}
}

// factor returns the lower triangle whose product with itself is the correlation of a calibration. Its
// figures are rounded in the room file; where rounding leaves no such triangle, factor scales them towards
// zero until there is one.
func factor(c *model.Calibration) *mat.TriDense {
	for keep := 1.0; ; keep *= 0.98 {
		all := mat.NewSymDense(model.FittedFigures, nil)
		for i := range model.FittedFigures {
			for j := range i {
				all.SetSym(i, j, keep*c.Correlated(i, j))
			}
			all.SetSym(i, i, 1)
		}
		var chol mat.Cholesky
		if chol.Factorize(all) {
			lower := mat.NewTriDense(model.FittedFigures, mat.Lower, nil)
			chol.LTo(lower)
			return lower
		}
	}
}
