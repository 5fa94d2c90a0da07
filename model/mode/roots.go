package mode

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
)

// eigenvalues returns the first n or more values u = (qL)² of the problem, in
// ascending order of Re q, complete: the number of them is checked against the
// count that Rouché's theorem gives (see settled).
//
// Following each root from its rigid value as the walls soften is not enough: two
// such paths may end on one root and another root is lost. So all roots in the
// disc of the count are sought at once, each driven away from the others
// (Aberth 1973, Math. Comp. 27, 339; Ehrlich 1967, CACM 10, 107), and the ones
// outside, which have a ring each, by Newton's method.
func (e ends) eigenvalues(n int) ([]complex128, error) {
	inner := e.settled()
	us, err := e.disc(inner)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(us, func(a, b complex128) int {
		qa, qb := cmplx.Sqrt(a), cmplx.Sqrt(b)
		return cmp.Or(cmp.Compare(real(qa), real(qb)), cmp.Compare(imag(qa), imag(qb)))
	})
	for m := inner + 1; m < n; m++ {
		u, err := e.ring(m)
		if err != nil {
			return nil, err
		}
		us = append(us, u)
	}
	return us, nil
}

// disc returns the inner+1 eigenvalues with |√u| < (inner+½)π.
func (e ends) disc(inner int) ([]complex128, error) {
	for attempt := range 6 {
		us := e.seeds(inner, attempt)
		if attempt > 3 { // two eigenvalues in one: a change of 1e-9 parts them
			e.a *= complex(1, 1e-9)
		}
		if e.aberth(us) && e.within(us, inner) {
			return us, nil
		}
	}
	return nil, fmt.Errorf("mode: no complete set of %d axis modes found for walls jkβL = %.4g and %.4g", inner+1, e.a, e.b)
}

// seeds returns starting values: those of rigid walls with a first-order shift,
// and on later attempts points spread over the disc.
func (e ends) seeds(inner, attempt int) []complex128 {
	us := make([]complex128, inner+1)
	for m := range us {
		t := float64(m) * math.Pi
		us[m] = complex(t*t, 0)
		switch {
		case attempt > 0:
			r := math.Sqrt((float64(m)+0.5)/float64(inner+1)) * (float64(inner) + 0.5) * math.Pi
			us[m] = cmplx.Rect(r*r*0.9, 2.4*float64(m)+float64(attempt))
		case m == 0:
			us[m] = (e.a + e.b) / (1 + (e.a+e.b)/3)
			if cmplx.IsInf(us[m]) || cmplx.IsNaN(us[m]) {
				us[m] = complex(0.1, 0.1)
			}
		default:
			us[m] += complex(0, 1e-3) + 2*(e.a+e.b)/(1+cmplx.Pow((e.a+e.b)/complex(t, 0), 2))
		}
	}
	return us
}

// aberth moves all values onto zeros of F at once and reports whether every one
// came to rest inside the disc. F'/F is the sum of 1/(u-uj) over all zeros (F has
// order 1/2); taking the others' known share away, and for those beyond the disc
// the share of rigid walls, leaves nearly 1/(u-ui).
func (e ends) aberth(us []complex128) bool {
	const sweeps, rest = 300, 1e-9
	edge := (float64(len(us)) - 0.5) * math.Pi
	final := 0
	for sweep := range sweeps {
		still := true
		for i, u := range us {
			slope := e.logSlope(u)
			if cmplx.IsInf(slope) || cmplx.IsNaN(slope) {
				continue // on a zero
			}
			step := 1 / (slope - others(us, i) - beyond(u, edge))
			us[i] = back(u-step, edge+1.5, sweep)
			still = still && cmplx.Abs(step) <= rest*(1+cmplx.Abs(u))
		}
		if !still {
			final = 0
			continue
		}
		if final++; final == 3 {
			if recall(us, edge, sweep) {
				return true
			}
			final = 0
		}
	}
	return false
}

// recall puts values that came to rest on zeros beyond the disc back inside and
// reports whether there was none.
func recall(us []complex128, edge float64, sweep int) bool {
	none := true
	for i, u := range us {
		us[i] = back(u, edge, sweep+i)
		none = none && us[i] == u
	}
	return none
}

// back returns a value that has left the disc |√u| < edge to its inside, to another
// place on every sweep, and any other as it is.
func back(u complex128, edge float64, sweep int) complex128 {
	radius := edge * edge
	if cmplx.Abs(u) < radius {
		return u
	}
	return cmplx.Rect(radius*math.Mod(0.37+0.618*float64(sweep), 1), 2.4*float64(sweep))
}

// others returns Σ 1/(ui-uj) over all j but i.
func others(us []complex128, i int) complex128 {
	var sum complex128
	for j, v := range us {
		if d := us[i] - v; j != i && d != 0 {
			sum += 1 / d
		}
	}
	return sum
}

// beyond returns about Σ 1/(u-(nπ)²) over the n with nπ > edge, by the midpoint
// rule for the sum as an integral.
func beyond(u complex128, edge float64) complex128 {
	t := cmplx.Sqrt(u) / complex(edge, 0)
	switch r := cmplx.Abs(t); {
	case r > 0.95:
		t *= complex(0.95/r, 0)
	case r < 1e-4:
		return complex(-1/(math.Pi*edge), 0)
	}
	return -cmplx.Atanh(t) / (t * complex(math.Pi*edge, 0))
}

// within reports whether all values are different and inside the disc whose count
// is known.
func (e ends) within(us []complex128, inner int) bool {
	edge := (float64(inner) + 0.5) * math.Pi
	for i, u := range us {
		if !(cmplx.Abs(u) < edge*edge) {
			return false
		}
		for _, v := range us[:i] {
			if cmplx.Abs(u-v) <= 1e-12*(cmplx.Abs(u)+1e-3) {
				return false
			}
		}
	}
	return true
}

// ring returns the one eigenvalue with (m-½)π < |√u| < (m+½)π.
func (e ends) ring(m int) (complex128, error) {
	t := complex(float64(m)*math.Pi, 0)
	t += (e.a + e.b) * t / (t*t - e.a*e.b)
	u, ok := e.polish(t * t)
	if r := cmplx.Abs(cmplx.Sqrt(u)) / math.Pi; !ok || math.Abs(r-float64(m)) >= 0.5 {
		return 0, fmt.Errorf("mode: axis mode %d not found for walls jkβL = %.4g and %.4g", m, e.a, e.b)
	}
	return u, nil
}

// polish follows Newton's method from u to an eigenvalue and reports whether it
// came to rest.
func (e ends) polish(u complex128) (complex128, bool) {
	for range 50 {
		slope := e.logSlope(u)
		if cmplx.IsInf(slope) || cmplx.IsNaN(slope) {
			return u, true // on a zero
		}
		step := 1 / slope
		u -= step
		if cmplx.Abs(step) <= 1e-9*cmplx.Abs(u) {
			return u, true // the next step would be of 1e-18
		}
	}
	return u, false
}
