package wave

import "evenbass/model/material"

// wallGroup marches wall faces that share one surface.
//
// Each branch b follows M du/dt + R u + K∫u dt = p_w, all from the pressure p_w at
// the wall, which is the cell's less what the air between them takes:
//
//	p_w = p - ρd dU/dt,   U = Σ u_b
//
// Resistance is taken as the mean of before and after. A spring too stiff for the
// time step gets the mass that holds it, M >= KT²/4: the wave equation's own
// limit then stays the only one.
type wallGroup struct {
	cells []int32   // ascending
	gain  []float32 // by face: pressure that leaves the cell per velocity, Pa·s/m
	air   []float32 // by face: ρd/T, Pa·s/m
	share []float32 // by face: 1/(1 + ρd/T Σg)

	branches []wallBranch
	sum      float32 // Σg
}

// wallBranch is one branch as it is marched.
type wallBranch struct {
	g    float32 // velocity per pressure in one step, m/(Pa·s)
	r, k float32 // Pa·s/m; k = KT acts on the sum of velocities
}

// wallState is what moves behind the faces of a group, by branch and face.
type wallState struct {
	u, path [][]float32 // velocity and its running sum, m/s
}

func (g *wallGroup) newState() wallState {
	var z wallState
	for range g.branches {
		z.u = append(z.u, make([]float32, len(g.cells)))
		z.path = append(z.path, make([]float32, len(g.cells)))
	}
	return z
}

// unyielding is an impedance in Pa·s/m beyond which nothing moves; more would
// leave the range of single precision.
const unyielding = 1e15

func newWallGroup(b material.Branches, step float64) *wallGroup {
	g := &wallGroup{}
	for _, branch := range b.List {
		resistance, stiffness := min(branch.Resistance, unyielding), min(branch.Stiffness, unyielding/step)
		mass := max(branch.Mass, stiffness*step*step/4)
		s := wallBranch{
			g: float32(1 / (mass/step + resistance/2)),
			r: float32(resistance),
			k: float32(stiffness * step),
		}
		g.branches = append(g.branches, s)
		g.sum += s.g
	}
	return g
}

// add appends a face; faces come in the order of their cells.
func (g *wallGroup) add(cell int, gain, air float64) {
	g.cells = append(g.cells, int32(cell))
	g.gain = append(g.gain, float32(gain))
	g.air = append(g.air, float32(air))
	g.share = append(g.share, float32(1/(1+air*float64(g.sum))))
}

// march takes the faces from..to one step and draws their flow from next.
func (g *wallGroup) march(z *wallState, next, now []float32, from, to int) {
	if len(g.branches) == 1 {
		g.marchOne(z, next, now, from, to)
		return
	}
	for i := from; i < to; i++ {
		cell := g.cells[i]
		p := now[cell]
		flow := g.sum * p
		for b := range g.branches {
			s := &g.branches[b]
			flow -= s.g * (s.r*z.u[b][i] + s.k*z.path[b][i])
		}
		flow *= g.share[i]
		p -= g.air[i] * flow
		for b := range g.branches {
			s := &g.branches[b]
			u := z.u[b][i]
			u += s.g * (p - s.r*u - s.k*z.path[b][i])
			z.u[b][i] = u
			z.path[b][i] += u
		}
		next[cell] -= g.gain[i] * flow
	}
}

// marchOne is march for the commonest wall, a single branch.
func (g *wallGroup) marchOne(z *wallState, next, now []float32, from, to int) {
	s := &g.branches[0]
	cells, gain, share := g.cells[from:to], g.gain[from:to], g.share[from:to]
	u, path := z.u[0][from:to], z.path[0][from:to]
	for i, cell := range cells {
		flow := s.g * share[i] * (now[cell] - s.r*u[i] - s.k*path[i])
		u[i] += flow
		path[i] += u[i]
		next[cell] -= gain[i] * flow
	}
}
