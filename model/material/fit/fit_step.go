package fit

import (
	"evenbass/model/material"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"
)

// improve takes up to the given number of damped least-squares steps.
func (t *fitting) improve(b Branches, steps int) Branches {
	damping, cost := 1e-2, t.cost(b)
	for range steps {
		next, ok := t.step(b, damping)
		e := t.cost(next)
		if !ok || !(e < cost) {
			damping *= 5
			if damping > 1e6 {
				break
			}
			continue
		}
		done := cost-e < 1e-9*cost
		b, cost, damping = next, e, max(damping/4, 1e-9)
		if done {
			break
		}
	}
	return b
}

// step solves the damped normal equations for one step in the logarithms.
func (t *fitting) step(b Branches, damping float64) (Branches, bool) {
	n := 3 * len(b.List)
	e := equations{phase: t.phase, normal: make([]float64, n*n), right: make([]float64, n), row: make([]float64, n)}
	slope := make([]complex128, n)
	for i, f := range t.frequencies {
		beta := t.slopes(slope, b, f)
		for _, cos := range fitCosines {
			e.gather(slope, beta, t.target[i], cos, t.weights[i])
		}
	}
	for i := range n {
		e.normal[i*n+i] = e.normal[i*n+i]*(1+damping) + 1e-12
	}
	var cholesky mat.Cholesky
	if !cholesky.Factorize(mat.NewSymDense(n, e.normal)) {
		return b, false
	}
	move := mat.NewVecDense(n, nil)
	if err := cholesky.SolveVecTo(move, mat.NewVecDense(n, e.right)); err != nil {
		return b, false
	}
	return moved(b, move), true
}

// slopes fills dst with the derivatives of β by the logarithms of all masses,
// resistances and springs at frequency f and returns β.
func (t *fitting) slopes(dst []complex128, b Branches, f float64) complex128 {
	w := 2 * math.Pi * f
	rhoc := complex(t.air.Impedance(), 0)
	var beta complex128
	for i, branch := range b.List {
		y := 1 / branch.Impedance(f)
		beta += rhoc * y
		dst[3*i] = -rhoc * y * y * complex(0, w*branch.Mass)
		dst[3*i+1] = -rhoc * y * y * complex(branch.Resistance, 0)
		dst[3*i+2] = -rhoc * y * y * complex(0, -branch.Stiffness/w)
	}
	return beta
}

// equations are normal equations being summed up; only the upper half of the matrix is filled.
type equations struct {
	normal, right, row []float64
	phase              float64 // weight of the reflection factor
}

// gather adds the residuals of one frequency and angle.
func (q *equations) gather(slope []complex128, beta, target complex128, cos, weight float64) {
	c := complex(cos, 0)
	r := material.ReflectionAt(beta, cos)
	turn := -2 * c / ((c + beta) * (c + beta))
	e := r - material.ReflectionAt(target, cos)
	for k, s := range slope {
		q.row[k] = q.phase * real(turn*s)
	}
	q.add(q.phase*real(e), weight)
	for k, s := range slope {
		q.row[k] = q.phase * imag(turn*s)
	}
	q.add(q.phase*imag(e), weight)
	for k, s := range slope {
		q.row[k] = -2 * real(cmplx.Conj(r)*turn*s) // of 1 - |R|²
	}
	q.add(material.AbsorptionAt(beta, cos)-material.AbsorptionAt(target, cos), weight)
}

// add adds the current row with its residual.
func (q *equations) add(residual, weight float64) {
	n := len(q.row)
	for i, a := range q.row {
		a *= weight
		q.right[i] -= a * residual
		for j := i; j < n; j++ {
			q.normal[i*n+j] += a * q.row[j]
		}
	}
}

// fitQuality is the greatest quality that a branch may have: a sharper one would
// hide between two fitted frequencies.
const fitQuality = 15

// moved returns the branches after a step in their logarithms, each bounded to a
// factor of ten.
func moved(b Branches, step *mat.VecDense) Branches {
	out := Branches{Air: b.Air, List: make([]Branch, len(b.List))}
	factor := func(i int) float64 { return math.Exp(max(-2.3, min(2.3, step.AtVec(i)))) }
	for i, branch := range b.List {
		next := Branch{
			Mass:       branch.Mass * factor(3*i),
			Resistance: branch.Resistance * factor(3*i+1),
			Stiffness:  branch.Stiffness * factor(3*i+2),
		}
		next.Resistance = max(next.Resistance, math.Sqrt(next.Mass*next.Stiffness)/fitQuality)
		out.List[i] = next
	}
	return out
}
