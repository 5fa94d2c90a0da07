package fit

import (
	"math"
	"math/cmplx"

	"evenbass/model"
	"evenbass/model/material"
)

// The band over which branches are fitted and judged, Hz.
const (
	From = 20
	To   = 300
)

// Boundary returns at most n branches that follow a boundary from [From] to [To], and the worst error
// in absorption in that band, over normal incidence, 60 degrees and random incidence. It stops adding
// branches once the error is below 0.005. The result is passive whatever the boundary is. A rigid boundary
// needs no branch; five are enough for most walls and build-ups, seven for deep wool with a limp skeleton,
// whose damping grows with frequency in a way that a single branch cannot follow.
//
// Branches are added one at a time where they help most, and then all masses, resistances and springs are
// improved together by damped least squares (D. W. Marquardt, SIAM J. 11 (1963) 431) in their logarithms, so
// that none can become negative. The fit minimises the error of the reflection factor at normal incidence and
// at 60 degrees, and that of the absorption with more weight: a table of absorption has no phase to be
// followed.
//
// A complex admittance that is the same at every frequency has a phase to be followed, and
// no causal wall has it. There the reflection factor counts alone, and the error returned is
// that of the reflection factor at normal incidence.
//
// It panics if n is not positive.
func Boundary(b model.Boundary, air model.Air, n int) (Branches, float64) {
	if n <= 0 {
		panic("material: fit with no branches")
	}
	fit := newFitting(b, air)
	if Acausal(b) {
		fit.phase, fit.byReflection = 2, true
	}
	best := Branches{Air: air}
	worst := fit.worst(best)
	for next := best; len(next.List) < n && worst > fitTolerance; {
		next = fit.grow(next)
		if e := fit.worst(next); e < worst {
			best, worst = next, e
		}
	}
	return best, worst
}

// Acausal reports whether a boundary has a complex admittance that is the same at every
// frequency. By the relations of Kramers and Kronig, no wall that answers only after it is
// struck can have one.
func Acausal(b model.Boundary) bool {
	w, ok := b.(model.Plain)
	return ok && imag(w) != 0
}

// fitTolerance is the error at which no more branches are added.
const fitTolerance = 0.005

// fitting is the target of a fit over its frequencies.
type fitting struct {
	air         model.Air
	frequencies []float64
	target      []complex128 // β
	weights     []float64    // per frequency
	phase       float64      // weight of the reflection factor beside the absorption

	byReflection bool // the error is that of the reflection factor, not of the absorption
}

const fitPoints = 80

func newFitting(b model.Boundary, air model.Air) *fitting {
	f := &fitting{air: air, phase: fitPhase}
	for i := range fitPoints {
		hz := From * math.Pow(float64(To)/From, float64(i)/(fitPoints-1))
		f.frequencies = append(f.frequencies, hz)
		f.target = append(f.target, b.Admittance(hz))
		f.weights = append(f.weights, 1)
	}
	return f
}

// worst returns the greatest error.
func (t *fitting) worst(b Branches) float64 {
	var worst float64
	for i := range t.frequencies {
		worst = max(worst, t.errorAt(b, i))
	}
	return worst
}

func (t *fitting) errorAt(b Branches, i int) float64 {
	got, want := b.Admittance(t.frequencies[i]), t.target[i]
	if t.byReflection {
		return cmplx.Abs(material.ReflectionAt(got, 1) - material.ReflectionAt(want, 1))
	}
	var worst float64
	for _, cos := range fitCosines {
		worst = max(worst, math.Abs(material.AbsorptionAt(got, cos)-material.AbsorptionAt(want, cos)))
	}
	return max(worst, math.Abs(randomOf(got)-randomOf(want)))
}

// fitCosines are those of the two angles that are fitted: 0 and 60 degrees.
var fitCosines = [2]float64{1, 0.5}

func randomOf(beta complex128) float64 {
	if beta == 0 {
		return 0
	}
	return material.RandomAbsorption(1 / beta)
}

// grow adds the branch that helps most and improves all of them.
func (t *fitting) grow(b Branches) Branches {
	var best Branches
	least := math.Inf(1)
	for _, seed := range t.seeds(b) {
		candidate := t.improve(seed, 30)
		if e := t.cost(candidate); e < least {
			best, least = candidate, e
		}
	}
	return t.level(best)
}

// level improves a fit in turns, each with more weight where the error was greatest (Lawson's minimax
// iteration), and keeps the best.
func (t *fitting) level(b Branches) Branches {
	saved := append([]float64(nil), t.weights...)
	best, least := b, t.worst(b)
	for range 8 {
		for i := range t.weights {
			t.weights[i] *= 1 + 2*t.errorAt(b, i)/(least+1e-9)
		}
		t.normalise()
		b = t.improve(b, 15)
		if e := t.worst(b); e < least {
			best, least = b, e
		}
	}
	t.weights = saved
	return best
}

func (t *fitting) normalise() {
	var sum float64
	for _, w := range t.weights {
		sum += w
	}
	for i := range t.weights {
		t.weights[i] *= float64(len(t.weights)) / sum
	}
}

// seeds returns the branches with one more, for a spread of resonances and damping. Its size makes up for the
// admittance that is missing at its resonance.
func (t *fitting) seeds(b Branches) []Branches {
	var list []Branches
	for _, f0 := range [...]float64{12, 25, 45, 80, 140, 240, 420, 800} {
		i := model.Grid(t.frequencies).Nearest(f0)
		missing := cmplx.Abs(t.target[i] - b.Admittance(t.frequencies[i]))
		r := t.air.Impedance() / max(missing, 1e-4)
		for _, quality := range [...]float64{0.3, 1.5, 6} {
			mass := quality * r / (2 * math.Pi * f0)
			extra := Branch{Mass: mass, Resistance: r, Stiffness: mass * (2 * math.Pi * f0) * (2 * math.Pi * f0)}
			list = append(list, Branches{Air: b.Air, List: append(b.List[:len(b.List):len(b.List)], extra)})
		}
	}
	return t.cheapest(list, 4)
}

// cheapest returns the n candidates of least cost, best first.
func (t *fitting) cheapest(list []Branches, n int) []Branches {
	var best []Branches
	for range min(n, len(list)) {
		j := 0
		for i := range list {
			if t.cost(list[i]) < t.cost(list[j]) {
				j = i
			}
		}
		best = append(best, list[j])
		list = append(list[:j], list[j+1:]...)
	}
	return best
}

// fitPhase is the weight of the reflection factor beside the absorption, where that has no
// phase to be followed.
const fitPhase = 0.2

func (t *fitting) cost(b Branches) float64 {
	var sum float64
	for i, f := range t.frequencies {
		beta := b.Admittance(f)
		for _, cos := range fitCosines {
			e := material.ReflectionAt(beta, cos) - material.ReflectionAt(t.target[i], cos)
			a := material.AbsorptionAt(beta, cos) - material.AbsorptionAt(t.target[i], cos)
			sum += t.weights[i] * (t.phase*t.phase*(real(e)*real(e)+imag(e)*imag(e)) + a*a)
		}
	}
	return sum
}
