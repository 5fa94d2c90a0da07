package image

import (
	"math"

	"evenbass/model"
)

// Above these the comparison with exact solutions (see the package's tests) went
// beyond the errors that the general warning states.
const (
	muchAbsorbing = 0.1  // Re β
	muchYielding  = 0.03 // |Im β|
)

// Warnings implements [model.Engine]. The figures in them are what the tests of
// this package find against exact solutions of a box of 5 x 4 x 2.5 m.
func (e *Engine) Warnings() []model.Warning {
	var list []model.Warning
	if e.reach.Remaining > e.wanted+0.1 {
		list = append(list, model.ImageSumEnds{Length: e.reach.Length, Remaining: e.reach.Remaining, Wanted: e.wanted})
	}
	absorbing, at, re := e.most(func(beta complex128) float64 { return real(beta) })
	yielding, of, im := e.most(func(beta complex128) float64 { return math.Abs(imag(beta)) })
	if re > 0 || im > 0 {
		list = append(list, model.Remark("mirror images reflect as if every wave were plane, which is not exact where walls absorb: single resonances come out up to 4 dB too low, other frequencies are off by about 1 dB"))
	}
	if re > muchAbsorbing {
		list = append(list, model.ImagesAbsorb{Wall: absorbing.Wall(), Admittance: re, Frequency: at})
	}
	if im > muchYielding {
		list = append(list, model.ImagesYield{Wall: yielding.Wall(), Admittance: im, Frequency: of})
	}
	return list
}

// most returns the face and the frequency in Hz at which a figure taken from β is
// greatest, and that figure.
func (e *Engine) most(figure func(beta complex128) float64) (face model.Face, f, value float64) {
	for _, at := range e.grid {
		w := wallsAt(&e.box, at)
		for i, beta := range w {
			if v := figure(beta); v > value {
				face, f, value = model.Face(i), at, v
			}
		}
	}
	return face, f, value
}
