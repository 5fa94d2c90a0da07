package wave

// heat is a group of cells of porous material whose air needs time to pass its heat
// to the fibres. Part of their compliance follows a pressure s that lags behind:
//
//	C dp/dt + B ds/dt = flow,   τ ds/dt + s = p
//
// Both are taken with means of before and after, so that the lag adds damping and
// never asks for a shorter step.
type heat struct {
	b octet // s after = (1-2b) s + b (p after + p)
	r octet // 2b B/(C + B b)
}

// relax lets the lagging pressure of lane l follow to the present, and puts what it
// gives in the step to come into the pressure of the step before, from which the
// march goes on.
func (h *heat) relax(l int, before, now, lag float32) (float32, float32) {
	change := h.b[l] * ((now - lag) + (before - lag))
	return before - h.r[l]*((before-now)+change), lag + change
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

// lagging returns B/(C + B b) of a cell.
func (s *system) lagging(i int) float64 {
	_, slow := s.compliance(i)
	return s.fill[i] * slow / s.late(i)
}
