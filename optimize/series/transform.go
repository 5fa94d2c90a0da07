package series

import (
	"math"

	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
)

// transform turns samples at Chebyshev nodes into the coefficients of the series through them,
// axis by axis:
//
//	c_k = (2 - δ_k0)/n Σ_i v_i T_k(t_i)
//
// T. J. Rivlin, Chebyshev Polynomials, 2nd ed. 1990, sec. 1.5 (discrete orthogonality).
func (t *Table) transform(v []complex128) {
	n := len(t.grid)
	per := t.places() * n
	along(v, t.Seats[0], t.Seats[1]*per)
	for i := range t.Seats[0] {
		along(v[i*t.Seats[1]*per:], t.Seats[1], per)
	}
	_ = concurrent.Each(t.Seats[0]*t.Seats[1], func(i int) error {
		at := i * per
		for _, p := range t.Panels {
			for range t.Domain.Heights {
				along(v[at:], p[0], p[1]*n)
				for x := range p[0] {
					along(v[at+x*p[1]*n:], p[1], n)
				}
				at += p[0] * p[1] * n
			}
		}
		return nil
	})
}

// along transforms the first axis of n blocks of so many numbers each, in place.
func along(v []complex128, n, block int) {
	if n == 1 {
		return
	}
	var basis [][]float64
	for i := range n {
		basis = append(basis, polynomials(-math.Cos(float64(2*i+1)*math.Pi/float64(2*n)), n))
	}
	values, terms := make([]complex128, n), make([]complex128, n)
	for j := range block {
		for i := range n {
			values[i], terms[i] = v[i*block+j], 0
		}
		for i, b := range basis {
			for k, w := range b {
				terms[k] += complex(w, 0) * values[i]
			}
		}
		for k := range n {
			share := 2 / float64(n)
			if k == 0 {
				share /= 2
			}
			v[k*block+j] = complex(share, 0) * terms[k]
		}
	}
}

// polynomials returns T_0(x) to T_{n-1}(x).
func polynomials(x float64, n int) []float64 {
	list := make([]float64, n)
	for k := range list {
		switch k {
		case 0:
			list[k] = 1
		case 1:
			list[k] = x
		default:
			list[k] = 2*x*list[k-1] - list[k-2]
		}
	}
	return list
}

// scaled returns where a place is in a span, -1 to 1; 0 in one without length.
func scaled(s geometry.Span, v float64) float64 {
	if s.Length() < 1e-9 {
		return 0
	}
	return (2*v - s.Lo - s.Hi) / s.Length()
}

// quantise rounds the coefficients to steps of a share of the rms field.
func (t *Table) quantise(s *samples, share float64) {
	n := len(t.grid)
	t.Step = make([]float64, n)
	largest := make([]float64, n)
	for i, v := range s.rest {
		largest[i%n] = max(largest[i%n], math.Abs(real(v)), math.Abs(imag(v)))
	}
	for i, power := range s.power {
		t.Step[i] = max(share*math.Sqrt(power), largest[i]/math.MaxInt16, math.SmallestNonzeroFloat64)
	}
	t.Numbers = make([]int16, 2*len(s.rest))
	for i, v := range s.rest {
		t.Numbers[2*i] = int16(math.Round(real(v) / t.Step[i%n]))
		t.Numbers[2*i+1] = int16(math.Round(imag(v) / t.Step[i%n]))
	}
}
