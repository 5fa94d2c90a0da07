package resonance

import (
	"errors"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// clearest is how many standard errors the amplitude of a mode must be away from nothing, at
// the seat where it stands out most. Found by trial: tones that happen to be in noise stay
// below 7.
const clearest = 8

// fit measures modes in the samples of each signal from the second to the n-th by least squares:
// their peaks, and how clearly they stand out. It returns none if the window is too short for so many.
func fit(signals []signal, n int, modes []Mode) []found {
	rows := n - 1
	if len(modes) == 0 || 2*len(modes) >= rows {
		return nil
	}
	list := make([]found, len(modes))
	for m := range modes {
		list[m].Mode = modes[m]
	}
	basis := newBasis(modes, signals[0], rows)
	for _, s := range signals {
		x := mat.NewVecDense(rows, slices.Clone(s.values[1:n]))
		var c, rest mat.VecDense
		var close mat.Condition // two tones that are nearly one: solved, but poorly
		if err := c.SolveVec(basis, x); err != nil && !errors.As(err, &close) {
			return nil
		}
		rest.MulVec(basis, &c)
		rest.SubVec(x, &rest)
		noise := mat.Dot(&rest, &rest) / float64(rows-2*len(modes))
		for m := range list {
			list[m].measure(s, &c, m, basis, noise)
		}
	}
	return list
}

// newBasis returns the two damped waves of each mode from the second sample on, one a column.
func newBasis(modes []Mode, s signal, rows int) *mat.Dense {
	basis := mat.NewDense(rows, 2*len(modes), nil)
	for m, mode := range modes {
		pole := complex(-mode.Rate, 2*math.Pi*(mode.Frequency-s.origin))
		for i := range rows {
			v := cmplx.Exp(pole * complex(float64(i+1)*s.step, 0))
			basis.Set(i, 2*m, real(v))
			basis.Set(i, 2*m+1, imag(v))
		}
	}
	return basis
}

// measure reads mode m of a signal off the coefficients c of its fit, whose noise has the given
// variance.
func (f *found) measure(s signal, c *mat.VecDense, m int, basis *mat.Dense, noise float64) {
	a := math.Hypot(c.AtVec(2*m), c.AtVec(2*m+1))
	gain := cmplx.Abs(s.gain(complex(-f.Rate, 2*math.Pi*f.Frequency)))
	f.amplitudes = append(f.amplitudes, a/gain/f.Rate)
	column := basis.ColView(2 * m)
	if e := math.Sqrt(noise / mat.Dot(column, column)); e > 0 {
		f.clear = max(f.clear, a/e)
	} else if a > 0 {
		f.clear = math.Inf(1)
	}
}
