package measure

import (
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/dsp/fourier"

	"evenbass/model"
)

// Synthesis turns a response that is known by frequency into an impulse response.
type Synthesis struct {
	Rate float64 // fs, Hz
	Step float64 // Hz between frequencies; the impulse response lasts 1/Step s
	Lead float64 // s before time zero, since a band has no sharp beginning
	Band model.Range

	Below, Above float64 // octaves over which the response fades beyond the band
}

// Grid returns the frequencies at which the response is wanted, even steps.
func (s Synthesis) Grid() model.Grid {
	var grid model.Grid
	first := math.Ceil(s.Band.Min * math.Exp2(-s.Below) / s.Step)
	for i := first; i*s.Step <= s.Band.Max*math.Exp2(s.Above); i++ {
		grid = append(grid, i*s.Step)
	}
	return grid
}

// Impulse returns the impulse response of H over the grid, e^{+jωt}. What rings for longer than
// 1/Step - Lead wraps around into the lead. It panics on another number of values than the grid's.
func (s Synthesis) Impulse(h []complex128) *Impulse {
	grid := s.Grid()
	if len(h) != len(grid) {
		panic(fmt.Sprintf("measure: %d values for %d frequencies", len(h), len(grid)))
	}
	n := int(math.Round(s.Rate / s.Step))
	lines := make([]complex128, n/2+1)
	zero := math.Round(s.Lead * s.Rate)
	for i, f := range grid {
		beyond := max(math.Log2(s.Band.Min/f)/s.Below, math.Log2(f/s.Band.Max)/s.Above, 0)
		weight := (1 + math.Cos(math.Pi*min(1, beyond))) / 2
		turn := cmplx.Rect(weight/float64(n), -math.Mod(2*math.Pi*f/s.Rate*zero, 2*math.Pi))
		lines[int(math.Round(f/s.Step))] = h[i] * turn
	}
	return &Impulse{Samples: fourier.NewFFT(n).Sequence(nil, lines), Rate: s.Rate, Zero: zero, Timed: true}
}
