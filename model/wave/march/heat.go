package march

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
