package wave

// faceDrag is a face with flow resistance as it is marched: the part of it that material
// or a sheet covers.
type faceDrag struct {
	mass, skeleton float64 // kg/m²; a skeleton of 0 stands still
	drag           float64 // Pa·s/m
	covered, open  float64 // shares of the face's air that it covers, and of the face that is open, 0..1

	// Drag that it shares with the next face below and above, Pa·s/m.
	couplingLow, couplingHigh float64
}

// resists reports whether any face may have flow resistance.
func (m *medium) resists() bool { return m.loads[0] != nil }

// hasDrag reports whether a face is marched with its resistance.
func (m *medium) hasDrag(a, i int) bool {
	return m.resists() && m.loads[a][i].drag > 0 && m.open[a][i] > 0
}

// drag returns the face across axis a above cell i, false if nothing resists there.
func (m *medium) drag(a, i int) (faceDrag, bool) {
	if !m.hasDrag(a, i) {
		return faceDrag{}, false
	}
	load := &m.loads[a][i]
	cross := load.cross()
	return faceDrag{
		mass:     m.air.Density*m.h[a] + load.film + load.mass/cross,
		skeleton: load.skeleton / cross, drag: load.drag / cross, covered: cross, open: m.open[a][i],
		couplingLow: m.coupling(a, i, i), couplingHigh: m.coupling(a, i, i+m.stride[a]),
	}, true
}

// coupling returns the drag per area of a face that it shares with the other face of a
// cell. Both give the same force on their common area, so that nothing is won.
func (m *medium) coupling(a, at, cell int) float64 {
	low, high := m.open[a][cell-m.stride[a]], m.open[a][cell]
	common := min(low, high)
	if common == 0 {
		common = max(low, high)
	}
	return m.couplings[a][cell] * common / (m.open[a][at] * m.loads[a][at].cross())
}
