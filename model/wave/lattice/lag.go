package lattice

// Lag returns by how much a cell's lagging pressure follows the pressure in one step, 1/(2τ/T + 1);
// 0 where nothing lags. The step is in s.
func (m *Medium) Lag(i int, step float64) float64 {
	if m.fill == nil || m.fill[i] == 0 || m.volume[i] == 0 {
		return 0
	}
	tau := m.porous[m.kind[i]].HeatTime
	if tau == 0 {
		return 0
	}
	return 1 / (2*tau/step + 1)
}

// EffectiveCompliance returns a cell's compliance including the part that follows within one step,
// C + B b, relative to a whole cell of air.
func (m *Medium) EffectiveCompliance(i int, step float64) float64 {
	b := m.Lag(i, step)
	if b == 0 {
		return m.Capacity(i)
	}
	_, slow := m.compliance(i)
	return m.Capacity(i) + m.fill[i]*slow*b
}

// Lagging returns B/(C + B b), the share of a cell's effective compliance that lags.
func (m *Medium) Lagging(i int, step float64) float64 {
	_, slow := m.compliance(i)
	return m.fill[i] * slow / m.EffectiveCompliance(i, step)
}
