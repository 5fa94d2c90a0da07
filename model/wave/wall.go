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
//
// Beside u each branch keeps w, what its resistance and spring take from its velocity
// in one step. With g the velocity that a pressure gives in one step,
//
//	δu = g p_w - w,   δw = g R δu + g K T u after
//
// Faces are marched side by side, eight to a batch. Those of a batch lie in a row
// along x where the wall does, else anywhere in one plane of cells.
type wallGroup struct {
	branches []wallBranch
	sum      octet // Σg, the same for all
	groups         // the batches
	kinds    []wallKind
	faces    [][lanes]int32 // by batch: the cells that they bound
}

// wallBranch is one branch as it is marched, the same for all faces of a batch.
type wallBranch struct {
	g       octet // m/(Pa·s)
	r, k    octet // gR and gKT
	springs bool  // k is not 0, and u counts
}

// wallKind is what a batch is made of. Lanes beyond its faces do nothing.
type wallKind struct {
	gain  octet // pressure that leaves the cell per velocity, Pa·s/m
	air   octet // ρd/T, Pa·s/m
	share octet // 1/(1 + ρd/T Σg)
	count int   // of faces
	row   bool  // their cells follow one another
}

// wallMotion is the state of a group of walls.
type wallMotion struct {
	branches []branchMotion // of the first batch, then of the second
	// The pressures before loose batches, side by side, and what leaves their cells.
	before, flow []float32
	slots        []int32 // by batch: where in these
}

// branchMotion is what moves behind a batch in one branch.
type branchMotion struct {
	u, w octet // m/s
}

func (g *wallGroup) newMotion() *wallMotion {
	m := &wallMotion{branches: make([]branchMotion, len(g.at)*len(g.branches))}
	m.before, m.flow = make([]float32, len(g.at)*lanes), make([]float32, len(g.at)*lanes)
	for n := range g.at {
		m.slots = append(m.slots, int32(n*lanes))
	}
	return m
}

// motion returns what moves behind a stretch of batches of so many branches.
func (m *wallMotion) motion(branches int, s stretch) []branchMotion {
	return m.branches[int(s.from)*branches : int(s.to)*branches]
}

// unyielding is an impedance in Pa·s/m beyond which nothing moves; more would
// leave the range of single precision.
const unyielding = 1e15

func newWallGroup(b material.Branches, step float64) *wallGroup {
	g, sum := &wallGroup{}, 0.0
	for _, branch := range b.List {
		resistance, stiffness := min(branch.Resistance, unyielding), min(branch.Stiffness, unyielding/step)
		mass := max(branch.Mass, stiffness*step*step/4)
		velocity := 1 / (mass/step + resistance/2)
		g.branches = append(g.branches, wallBranch{
			g: same(velocity), r: same(velocity * resistance), k: same(velocity * stiffness * step), springs: stiffness != 0,
		})
		sum += velocity
	}
	g.sum = same(sum)
	return g
}

// same returns an octet of one value.
func same(x float64) (o octet) {
	for l := range o {
		o[l] = float32(x)
	}
	return o
}

// portable takes the batches of a part one step and draws their flow from next.
func (g *wallGroup) portable(m *wallMotion, next, now []float32, part []stretch) {
	g.collect(m, now, part)
	for _, s := range part {
		in, out, cells := g.ends(m, next, now, s)
		motion, k := m.motion(len(g.branches), s), &g.kinds[s.kind]
		for n, at := range cells {
			g.flow(k, motion[n*len(g.branches):][:len(g.branches)], (*octet)(in[at:]), (*octet)(out[at:]))
		}
	}
	g.release(m, next, part)
}

// ends returns where the pressures before a stretch of batches are, what their flow is
// drawn from, and where in these each batch begins.
func (g *wallGroup) ends(m *wallMotion, next, now []float32, s stretch) (in, out []float32, cells []int32) {
	if g.kinds[s.kind].row {
		return now, next, g.cells(s)
	}
	return m.before, m.flow, m.slots[s.from:s.to]
}

// flow moves what is behind one batch and draws the flow from out.
func (g *wallGroup) flow(k *wallKind, moving []branchMotion, in, out *octet) {
	branches := g.branches[:len(moving)]
	for l, p := range in {
		flow := g.sum[l] * p
		for i := range moving {
			flow -= moving[i].w[l]
		}
		flow *= k.share[l]
		out[l] -= k.gain[l] * flow
		p -= k.air[l] * flow // at the wall
		for i := range branches {
			s, m := &branches[i], &moving[i]
			change := s.g[l]*p - m.w[l]
			m.w[l] += s.r[l] * change
			if s.springs { // else nobody asks for u
				m.u[l] += change
				m.w[l] += s.k[l] * m.u[l]
			}
		}
	}
}

// collect copies the pressures before loose batches to where they lie side by side.
func (g *wallGroup) collect(m *wallMotion, now []float32, part []stretch) {
	for _, s := range part {
		k := &g.kinds[s.kind]
		if k.row {
			continue
		}
		for n := s.from; n < s.to; n++ {
			to, faces := (*octet)(m.before[n*lanes:]), &g.faces[n]
			for l := range to {
				to[l] = now[faces[l]]
			}
		}
	}
}

// release draws the flow of loose batches from next.
func (g *wallGroup) release(m *wallMotion, next []float32, part []stretch) {
	for _, s := range part {
		k := &g.kinds[s.kind]
		if k.row {
			continue
		}
		for n := s.from; n < s.to; n++ {
			flow, faces := (*octet)(m.flow[n*lanes:]), &g.faces[n]
			for l := range k.count {
				next[faces[l&(lanes-1)]] += flow[l&(lanes-1)]
			}
			*flow = octet{}
		}
	}
}
