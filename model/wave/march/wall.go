package march

import (
	"math"
	"slices"

	"evenbass/model/material/fit"
)

// wallGroup is the wall faces that share one surface.
//
// Each branch b follows M du/dt + R u + K∫u dt = p_w. All are driven by the pressure p_w at the
// wall, which is the cell's less what the air between them takes:
//
//	p_w = p - ρd dU/dt,   U = Σ u_b
//
// Resistance is taken as the mean of before and after. A spring too stiff for the time step gets
// the mass that holds it, M >= KT²/4, so that the limit of the wave equation stays the only one.
//
// Beside u each branch keeps w, the change of its velocity in one step by its resistance and
// spring. With g the velocity that a pressure gives in one step,
//
//	δu = g p_w + w,   δw = -g R δu - g K T u after
//
// and with the sums over all branches
//
//	δU = (Σg p + Σw) / (1 + ρd/T Σg)
type wallGroup struct {
	branches []wallBranch // those with springs first
	springs  int          // how many have springs
	sum      octet        // Σg, the same for all

	// The faces in batches of eight. Faces in a row along x are read and written in place;
	// loose ones are gathered side by side.
	rows, loose []group[wallKind] // batches, by their first cell, or by their place in faces if loose
	faces       []int32           // of loose batches: the cell of each face
}

// wallBranch is one branch as it is marched, with the same values for all faces of a batch.
type wallBranch struct {
	g    octet // m/(Pa·s)
	r, k octet // -gR and -gKT
}

// wallPiece is a face of a group: its cell, and its values in a batch.
type wallPiece struct {
	cell      int
	gain, air float64
}

// maxImpedance is the impedance in Pa·s/m from which nothing moves. More would overflow single
// precision.
const maxImpedance = 1e15

// newWallGroup returns a group without faces for a surface and a step in s.
func newWallGroup(b fit.Branches, step float64) *wallGroup {
	g, sum := &wallGroup{}, 0.0
	var plain []wallBranch // whose u is not needed
	for _, branch := range b.List {
		resistance, stiffness := min(branch.Resistance, maxImpedance), min(branch.Stiffness, maxImpedance/step)
		mass := max(branch.Mass, stiffness*step*step/4)
		velocity := 1 / (mass/step + resistance/2)
		sum += velocity
		one := wallBranch{g: repeat(velocity), r: repeat(-velocity * resistance), k: repeat(-velocity * stiffness * step)}
		if springless(branch) {
			plain = append(plain, one)
		} else {
			g.branches = append(g.branches, one)
		}
	}
	g.springs = len(g.branches)
	g.branches = append(slices.Grow(g.branches, len(plain)+1), plain...) // one to spare, where a pointer may end
	g.sum = repeat(sum)
	return g
}

// springless reports whether a branch has no spring that counts: from 5 Hz up it adds less than
// single precision resolves beside mass and resistance. Fits leave many such branches.
func springless(b fit.Branch) bool {
	const frequency, precision = 2 * math.Pi * 5, 1.0 / (1 << 24)
	return b.Stiffness <= precision*frequency*(b.Resistance+frequency*b.Mass)
}

// repeat returns an octet of equal values.
func repeat(x float64) (o octet) {
	for l := range o {
		o[l] = float32(x)
	}
	return o
}

// portable moves what is behind batches under the pressures in and adds the gain of their cells to
// out. The batches follow one another in motion.
func (w *wallGroup) portable(batches []group[wallKind], motion []octet, in, out []float32) {
	size := w.size()
	for n, b := range batches {
		w.flow(b.kind, motion[n*size:][:size], (*octet)(in[b.at:]), (*octet)(out[b.at:]))
	}
}

// flow is portable for one batch.
func (w *wallGroup) flow(k *wallKind, moving []octet, in, out *octet) {
	var p, sum octet
	for l := range p {
		flow := (w.sum[l]*in[l] + moving[0][l]) * k.share[l]
		out[l] += k.gain[l] * flow
		p[l] = in[l] + k.air[l]*flow // at the wall
	}
	all := &moving[0]
	moving = moving[1:]
	for i := range w.branches {
		b, give := &w.branches[i], &moving[0]
		if i >= w.springs {
			for l := range p {
				give[l] += b.r[l] * (b.g[l]*p[l] + give[l])
				sum[l] += give[l]
			}
			moving = moving[1:]
			continue
		}
		u := &moving[1]
		for l := range p {
			change := b.g[l]*p[l] + give[l]
			u[l] += change
			give[l] += b.r[l]*change + b.k[l]*u[l]
			sum[l] += give[l]
		}
		moving = moving[2:]
	}
	*all = sum
}
