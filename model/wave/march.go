package wave

// system is a medium made ready to march.
type system struct {
	*medium
	step float64 // T, s

	air   stencil
	rows  []span // runs of even cells, in order
	odd   oddCells
	walls []*wallGroup
	drag  dragFaces
	heat  heatCells

	now, next []float32 // pressure, Pa
}

// span is a run of cells from..to in one row.
type span struct{ from, to int32 }

// oddCells are those that the even stencil does not fit: at cuts, at porous
// material, at solids. Each has its own list of neighbours and of drag faces.
type oddCells struct {
	cells []int32
	self  []float32

	start []int32 // of the neighbours of each cell; one more at the end
	near  []int32
	coef  []float32

	faceStart []int32
	face      []int32
	faceCoef  []float32
}

// march takes the odd cells from..to one step.
func (o *oddCells) march(next, now, change []float32, from, to int) {
	for c := from; c < to; c++ {
		i := o.cells[c]
		sum := o.self[c]*now[i] - next[i]
		for n := o.start[c]; n < o.start[c+1]; n++ {
			sum += o.coef[n] * now[o.near[n]]
		}
		for n := o.faceStart[c]; n < o.faceStart[c+1]; n++ {
			sum += o.faceCoef[n] * change[o.face[n]]
		}
		next[i] = sum
	}
}

// newSystem prepares a medium for marching.
func newSystem(m *medium) *system {
	s := &system{medium: m, step: m.stableStep()}
	ct := m.air.Speed * s.step
	s.air = newStencil(&m.lattice, ct*ct)
	s.addDrag()
	s.addHeat()
	s.addCells(ct * ct)
	s.addWalls()
	s.now = make([]float32, m.size)
	s.next = make([]float32, m.size)
	return s
}

// addWalls groups the wall faces by their surface, in the order of cells.
func (s *system) addWalls() {
	density, speed := s.medium.air.Density, s.medium.air.Speed
	for _, b := range s.surfaces {
		s.walls = append(s.walls, newWallGroup(b, s.step))
	}
	for _, w := range s.medium.walls {
		gain := s.step * density * speed * speed * w.area / (s.late(w.cell) * s.lattice.volume())
		s.walls[w.surface].add(w.cell, gain, density*w.depth/s.step)
	}
}
