package lattice

// Drag is the part of a face that material or a sheet covers, with its flow resistance.
type Drag struct {
	Mass, Skeleton float64 // kg/m²; a skeleton of 0 stands still
	Resistance     float64 // Pa·s/m
	Covered, Open  float64 // covered share of the cross-section, and open share of the face, 0..1

	// Drag shared with the next face below and above, Pa·s/m.
	CouplingLow, CouplingHigh float64
}

// Resists reports whether any face may have flow resistance.
func (m *Medium) Resists() bool { return m.resists }

// HasDrag reports whether a face has flow resistance.
func (m *Medium) HasDrag(a, i int) bool {
	return m.Resists() && m.loads[a][i].drag > 0 && m.open[a][i] > 0
}

// Drag returns the drag of the face across axis a above cell i, false if it has none.
func (m *Medium) Drag(a, i int) (Drag, bool) {
	if !m.HasDrag(a, i) {
		return Drag{}, false
	}
	load := &m.loads[a][i]
	cross := load.cross()
	return Drag{
		Mass:     m.Air.Density*m.H[a] + load.film + load.mass/cross,
		Skeleton: load.skeleton / cross, Resistance: load.drag / cross, Covered: cross, Open: m.open[a][i],
		CouplingLow: m.coupling(a, i, i), CouplingHigh: m.coupling(a, i, i+m.Stride[a]),
	}, true
}

// coupling returns the drag per area that a face shares with the other face of a cell. Both exert
// the same force on their common area, so that no energy is gained.
func (m *Medium) coupling(a, at, cell int) float64 {
	low, high := m.open[a][cell-m.Stride[a]], m.open[a][cell]
	common := min(low, high)
	if common == 0 {
		common = max(low, high)
	}
	return m.couplings[a][cell] * common / (m.open[a][at] * m.loads[a][at].cross())
}
