package wave

// heatCells are the cells of porous material whose air needs time to pass its heat
// to the fibres. Part of their compliance follows a pressure s that lags behind:
//
//	C dp/dt + B ds/dt = flow,   τ ds/dt + s = p
//
// Both are taken with means of before and after, so that the lag adds damping and
// never asks for a shorter step.
type heatCells struct {
	cells []int32
	a, b  []float32 // s after = a s + b (p after + p)
	r     []float32 // B/(C + B b)
	s, ds []float32 // the pressure that lags and its last change, Pa
}

// addHeat lists the cells with a heat time.
func (s *system) addHeat() {
	if s.fill == nil {
		return
	}
	h := &s.heat
	s.each(func(i int, _ [3]int) {
		b := s.lag(i)
		if b == 0 {
			return
		}
		_, slow := s.compliance(i)
		h.cells = append(h.cells, int32(i))
		h.a = append(h.a, float32(1-2*b))
		h.b = append(h.b, float32(b))
		h.r = append(h.r, float32(s.fill[i]*slow/s.late(i)))
	})
	h.s, h.ds = make([]float32, len(h.cells)), make([]float32, len(h.cells))
}

// lag returns by how much a cell's lagging pressure follows a pressure in one
// step, 1/(2τ/T + 1); 0 where nothing lags.
func (s *system) lag(i int) float64 {
	if s.fill == nil || s.fill[i] == 0 || s.volume[i] == 0 {
		return 0
	}
	tau := s.porous[s.kind[i]].HeatTime
	if tau == 0 {
		return 0
	}
	return 1 / (2*tau/s.step + 1)
}

// late returns a cell's compliance with what lags of it within one step: C + B b.
func (s *system) late(i int) float64 {
	b := s.lag(i)
	if b == 0 {
		return s.capacity(i)
	}
	_, slow := s.compliance(i)
	return s.capacity(i) + s.fill[i]*slow*b
}

// before puts what the lag gives into the pressures of the step before, from which
// the march goes on.
func (h *heatCells) before(next, now []float32, from, to int) {
	for c := from; c < to; c++ {
		i := h.cells[c]
		next[i] -= h.r[c] * (h.ds[c] + 2*h.b[c]*h.s[c] + h.b[c]*(next[i]-3*now[i]))
	}
}

// after lets the lagging pressures follow.
func (h *heatCells) after(next, now []float32, from, to int) {
	for c := from; c < to; c++ {
		i := h.cells[c]
		s := h.a[c]*h.s[c] + h.b[c]*(next[i]+now[i])
		h.ds[c] = s - h.s[c]
		h.s[c] = s
	}
}
