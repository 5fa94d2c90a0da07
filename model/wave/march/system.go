// Package march solves the wave equation in a [lattice.Medium] step by step in time. [New]
// prepares a [System]; [System.Run] takes a source and the cells to record, marches until the
// sound has decayed, and returns a [Record] of pressures by time.
//
// The step in time is the leapfrog (Yee 1966 for the staggered form). In plain air the
// velocities drop out and two pressures per cell are all that is kept. Uniform cells are
// marched row by row, irregular ones in groups of eight, faces with drag and walls apart. Each
// kernel exists twice: in plain Go, and in files called _simd for eight cells at once.
//
// # Dispersion
//
// The plain seven-point stencil slows waves by (kh)²/24, and more along the axes than along
// diagonals. Three things reduce that:
//
//   - Terms over the diagonals of each plane (the 19-point stencil) make the
//     leading error the same in every direction:
//     Δ_h = Δ + h²/12 Δ² + O(h⁴).
//   - An error that depends on frequency alone can be undone: the answer at
//     frequency f is read at the grid's own frequency Ω, where
//     Ω² = ω² (1 - (kH)²/12 + ...), see [dispersion].
//   - The leapfrog's error in time depends on frequency alone too, and is undone
//     likewise: Ω = 2/T sin(ω'T/2).
//
// Both kinds of term, faces and diagonals, are symmetric, so energy cannot grow
// whatever the shape.
//
// # Symbols
//
//	h, H²  cell size, m, and the mean square of the three, m²
//	T      time step, s
//	Ω      frequency as the grid sees it, rad/s
package march

import "evenbass/model/wave/lattice"

// System is a medium prepared for marching: everything that is the same in every run.
type System struct {
	*lattice.Medium
	Step float64 // T, s

	rows      arrangement
	air       stencil
	uniform   []span // uniform cells, in order
	irregular irregularCells
	drag      [3]dragFaces // by axis
	walls     []*wallGroup

	vectors bool // compute the cells of a group at once
}

// span is a run of cells from..to in one row.
type span struct{ from, to int32 }

// New prepares a medium. vectors asks for the kernels that compute eight cells at once; it must be
// false unless [vector.Available] is true.
func New(m *lattice.Medium, vectors bool) *System {
	s := &System{Medium: m, Step: m.StableStep(), vectors: vectors}
	classes := s.classify()
	s.rows = s.arrange(classes)
	s.assemble(classes)
	return s
}

// assemble collects what is to be marched, in groups as arranged.
func (s *System) assemble(classes []class) {
	ct := s.Medium.Air.Speed * s.Step
	s.air = newStencil(&s.Cells, ct*ct)
	s.addDrag()
	s.addCells(ct*ct, classes)
	s.addWalls()
}

// addWalls groups the wall faces by surface, in the order of cells.
func (s *System) addWalls() {
	density, speed := s.Medium.Air.Density, s.Medium.Air.Speed
	pieces := make([][]wallPiece, len(s.Surfaces))
	for _, w := range s.Medium.Walls {
		gain := s.Step * density * speed * speed * w.Area / (s.EffectiveCompliance(w.Cell, s.Step) * s.Cells.Volume())
		pieces[w.Surface] = append(pieces[w.Surface], wallPiece{w.Cell, gain, density * w.Depth / s.Step})
	}
	for i, b := range s.Surfaces {
		g := newWallGroup(b, s.Step)
		g.batch(pieces[i])
		s.walls = append(s.walls, g)
	}
}

// state is what changes while a system is marched.
type state struct {
	now, next []float32       // pressure, Pa
	lag       []octet         // by group of irregular cells with heat times: lagging pressure, Pa
	slip      [3][2][]float32 // by axis and parity of the step, see dragFaces
	flow      [3][]float32    // by axis: pressure that the flow takes from a whole cell, Pa
	behind    []wallMotion    // by group of walls
	scratch   *scratch
}

// newState returns a system's state at rest.
func (s *System) newState() *state {
	z := &state{now: s.array(), next: s.array(), scratch: s.air.newScratch()}
	z.lag = make([]octet, len(s.irregular.hot.list))
	for _, w := range s.walls {
		z.behind = append(z.behind, w.rest())
	}
	for a := range s.drag {
		if s.Resists() {
			z.slip[a][0], z.slip[a][1] = s.array(), s.array()
			z.flow[a] = s.array()
		}
	}
	return z
}

// array returns an array over cells, of zeros. No group in it crosses two cache lines.
func (s *System) array() []float32 { return make([]float32, s.Size+s.rows.lead)[s.rows.lead:] }
