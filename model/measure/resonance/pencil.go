package resonance

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// pencil holds the right singular vectors of the stacked Hankel matrices of several signals.
type pencil struct {
	v      mat.Dense
	values []float64 // singular, descending
}

// newPencil returns the pencil of a window of signals, nil if it cannot be made. All windows
// have the same length.
func newPencil(windows [][]float64) *pencil {
	n := len(windows[0])
	columns := n / 2
	rows := n - columns + 1
	h := mat.NewDense(rows*len(windows), columns, nil)
	for w, x := range windows {
		for i := range rows {
			for j := range columns {
				h.Set(w*rows+i, j, x[i+j])
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDThinV) {
		return nil
	}
	p := &pencil{values: svd.Values(nil)}
	svd.VTo(&p.v)
	return p
}

// order returns how many singular values stand above the noise: that of the smaller half of
// them, and never more than the numbers' own precision.
func (p *pencil) order() int {
	n := len(p.values)
	noise := max(3*p.values[n*3/4], 1e-9*p.values[0])
	return max(2, slices.IndexFunc(append(slices.Clone(p.values), 0), func(v float64) bool { return v <= noise }))
}

// poles returns the poles z of so many damped tones; a real tone has two.
func (p *pencil) poles(order int) []complex128 {
	columns, _ := p.v.Dims()
	v1, v2 := p.v.Slice(0, columns-1, 0, order), p.v.Slice(1, columns, 0, order)
	var phi mat.Dense
	if err := phi.Solve(v1, v2); err != nil {
		return nil
	}
	var e mat.Eigen
	if !e.Factorize(&phi, mat.EigenNone) {
		return nil
	}
	return e.Values(nil)
}

// tone is a damped tone: e^{(-rate + j2πf)t}.
type tone struct{ frequency, rate float64 }

// widest is the greatest bandwidth of what counts as a mode, Hz: half of a band. A resonance that
// decays faster cannot be told from its neighbours. Common practice, no source.
const widest = width / 2

// tones returns the damped tones among poles of a signal.
func (s signal) tones(poles []complex128) []tone {
	var list []tone
	for _, z := range poles {
		if imag(z) <= 0 {
			continue // the other half of a pair
		}
		log := cmplx.Log(z) / complex(s.step, 0)
		t := tone{frequency: s.origin + imag(log)/(2*math.Pi), rate: -real(log)}
		if t.rate > 0 && t.rate < math.Pi*widest {
			list = append(list, t)
		}
	}
	return list
}
