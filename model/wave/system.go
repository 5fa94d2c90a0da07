package wave

// Kernel names what marches the cells in this build and on this machine. The build
// flag GOEXPERIMENT=simd gives the faster one, on processors of the amd64 family
// that have AVX2 and FMA.
func Kernel() string {
	if hasVectors() {
		return "eight cells at a time"
	}
	return "portable"
}

// system is a medium made ready to march: all that is the same in every run.
type system struct {
	*medium
	step float64 // T, s

	air       stencil
	uniform   []span // uniform cells, in order
	irregular irregularCells
	drag      [3]dragFaces // by axis
	walls     []*wallGroup

	vectors bool // march the cells of a group at once
}

// span is a run of cells from..to in one row.
type span struct{ from, to int32 }

// newSystem prepares a medium for marching with a step in s. Only where
// [hasVectors] is true may vectors be asked for.
func newSystem(m *medium, step float64, vectors bool) *system {
	s := &system{medium: m, step: step, vectors: vectors}
	ct := m.air.Speed * s.step
	s.air = newStencil(&m.lattice, ct*ct)
	s.addDrag()
	s.addCells(ct * ct)
	s.addWalls()
	return s
}

// addWalls groups the wall faces by their surface, in the order of cells.
func (s *system) addWalls() {
	density, speed := s.medium.air.Density, s.medium.air.Speed
	pieces := make([][]wallPiece, len(s.surfaces))
	for _, w := range s.medium.walls {
		gain := s.step * density * speed * speed * w.area / (s.effectiveCompliance(w.cell, s.step) * s.lattice.volume())
		pieces[w.surface] = append(pieces[w.surface], wallPiece{w.cell, gain, density * w.depth / s.step})
	}
	for i, b := range s.surfaces {
		g := newWallGroup(b, s.step)
		g.batch(pieces[i])
		s.walls = append(s.walls, g)
	}
}

// state is what changes as a system is marched.
type state struct {
	now, next []float32       // pressure, Pa
	lag       []octet         // by group of irregular cells: pressure that lags, Pa
	slip      [3][2][]float32 // by axis and parity of the step, see dragFaces
	flow      [3][]float32    // by axis, likewise: pressure that it takes from a whole cell, Pa
	behind    []wallMotion    // by group of walls
	scratch   *scratch
}

// newState returns the state of a system at rest.
func (s *system) newState() *state {
	z := &state{now: make([]float32, s.size), next: make([]float32, s.size), scratch: s.air.newScratch()}
	z.lag = make([]octet, len(s.irregular.at))
	for _, w := range s.walls {
		z.behind = append(z.behind, w.rest())
	}
	for a := range s.drag {
		if s.resists() {
			z.slip[a][0], z.slip[a][1] = make([]float32, s.size), make([]float32, s.size)
			z.flow[a] = make([]float32, s.size)
		}
	}
	return z
}
