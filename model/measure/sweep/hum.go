package sweep

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"evenbass/model"
)

// The interval of a response in which hum is sought. Between the second harmonic and time zero, an
// undisturbed sweep leaves noise alone. A tone that lasts through the recording lasts through the
// response.
const (
	humFrom = 0.75 // of the second harmonic's lead
	humTo   = 0.35 // s before time zero: later, what rings at the edges of the band begins
	humLeft = 0.5  // s; the least that hum is taken out by
)

// The mains may be off its nominal frequency by mostOff, Hz (EN 50160 for interconnected grids: 1 %; usually
// within 0.1 Hz).
const (
	mostOff = 0.15
	humStep = 0.005
)

// takeHum removes the tones at the given multiples of the mains from a cyclic response. It returns
// by how many dB the power of the fitted interval fell, or 0 if that is too short.
func (v *inverse) takeHum(h []float64, mains float64, multiples []float64) model.Level {
	from, to := int(-humFrom*v.s.growth()*math.Ln2*v.rate), int(-humTo*v.rate)
	if float64(to-from) < humLeft*v.rate || len(multiples) == 0 {
		return 0
	}
	x := mat.NewVecDense(to-from, nil)
	for i := range to - from {
		x.SetVec(i, h[(from+i+v.n)%v.n])
	}
	before := mat.Dot(x, x)
	best, frequency := math.Inf(1), mains
	var tones *mat.VecDense
	for off := -mostOff; off <= mostOff; off += humStep {
		basis := v.tones(from, to, mains+off, multiples)
		var fitted mat.VecDense
		if fitted.SolveVec(basis, x) != nil {
			continue
		}
		var rest mat.VecDense
		rest.MulVec(basis, &fitted)
		rest.SubVec(x, &rest)
		if left := mat.Dot(&rest, &rest); left < best {
			best, frequency, tones = left, mains+off, &fitted
		}
	}
	if tones == nil || best > 0.9*before {
		return 0
	}
	first, last := -v.n/2, v.n/2
	var hum mat.VecDense
	hum.MulVec(v.tones(first, last, frequency, multiples), tones)
	for i := range last - first {
		h[(first+i+v.n)%v.n] -= hum.AtVec(i)
	}
	return model.PowerLevel(before / best)
}

// tones returns cosine and sine of each tone between two samples of the response.
func (v *inverse) tones(from, to int, mains float64, multiples []float64) *mat.Dense {
	basis := mat.NewDense(to-from, 2*len(multiples), nil)
	for k, n := range multiples {
		for i := range to - from {
			sin, cos := math.Sincos(2 * math.Pi * mains * n * float64(from+i) / v.rate)
			basis.Set(i, 2*k, cos)
			basis.Set(i, 2*k+1, sin)
		}
	}
	return basis
}
