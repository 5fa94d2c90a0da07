package wave

import (
	"cmp"
	"slices"

	"evenbass/model/material"
)

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
//
// Faces are marched side by side, eight to a batch. Those of a batch lie in a row
// along x where the wall does, else anywhere in one plane of cells.
type wallGroup struct {
	branches []wallBranch
	sum      float32 // Σg
	batches  []wallBatch
}

// wallBranch is one branch as it is marched.
type wallBranch struct {
	g    float32 // velocity per pressure in one step, m/(Pa·s)
	r, k float32 // Pa·s/m; k = KT acts on the sum of velocities
}

// wallBatch is a number of faces. Lanes beyond them do nothing.
type wallBatch struct {
	cells [lanes]int32 // ascending
	count int
	row   bool  // the cells follow one another
	gain  octet // pressure that leaves the cell per velocity, Pa·s/m
	air   octet // ρd/T, Pa·s/m
	share octet // 1/(1 + ρd/T Σg)
}

// wallMotion is what moves behind a batch in one branch.
type wallMotion struct {
	u, path octet // velocity and its running sum, m/s
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

// wallPiece is a face of a group: the cell that it bounds, and what belongs to it in
// a batch.
type wallPiece struct {
	cell      int
	gain, air float64
}

// shortest is the least number of faces in a row that get a batch of their own.
const shortest = 3

// fill makes batches of faces, which come in the order of their cells. Batches are
// in the order of their first cells and each keeps to one plane of cells.
func (g *wallGroup) fill(pieces []wallPiece, plane int) {
	var loose []wallPiece
	for len(pieces) > 0 {
		n := 1
		for n < min(lanes, len(pieces)) && pieces[n].cell == pieces[0].cell+n {
			n++
		}
		if n >= shortest {
			g.add(pieces[:n])
		} else {
			if len(loose)+n > lanes || len(loose) > 0 && loose[0].cell/plane != pieces[0].cell/plane {
				g.add(loose)
				loose = nil
			}
			loose = append(loose, pieces[:n]...)
		}
		pieces = pieces[n:]
	}
	g.add(loose)
	slices.SortStableFunc(g.batches, func(a, b wallBatch) int { return cmp.Compare(a.cells[0], b.cells[0]) })
}

// add appends a batch of up to eight faces; none is none.
func (g *wallGroup) add(pieces []wallPiece) {
	if len(pieces) == 0 {
		return
	}
	b := wallBatch{count: len(pieces), row: true}
	for l, p := range pieces {
		b.cells[l] = int32(p.cell)
		b.gain[l], b.air[l] = float32(p.gain), float32(p.air)
		b.share[l] = float32(1 / (1 + p.air*float64(g.sum)))
		b.row = b.row && p.cell == pieces[0].cell+l
	}
	g.batches = append(g.batches, b)
}

// portable takes the batches from..to one step and draws their flow from next. moves
// holds all branches of the first batch, then of the second.
func (g *wallGroup) portable(moves []wallMotion, next, now []float32, from, to int) {
	for n := from; n < to; n++ {
		b := &g.batches[n]
		moving := moves[n*len(g.branches):][:len(g.branches)]
		var pressure, flow octet
		for l := range b.count {
			pressure[l] = now[b.cells[l]]
			flow[l] = g.sum * pressure[l]
		}
		for i := range moving {
			s, m := &g.branches[i], &moving[i]
			for l := range b.count {
				flow[l] -= s.g * (s.r*m.u[l] + s.k*m.path[l])
			}
		}
		for l := range b.count {
			flow[l] *= b.share[l]
			pressure[l] -= b.air[l] * flow[l]
			next[b.cells[l]] -= b.gain[l] * flow[l]
		}
		for i := range moving {
			s, m := &g.branches[i], &moving[i]
			for l := range b.count {
				m.u[l] += s.g * (pressure[l] - s.r*m.u[l] - s.k*m.path[l])
				m.path[l] += m.u[l]
			}
		}
	}
}
