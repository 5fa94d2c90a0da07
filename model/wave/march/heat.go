package march

// heat is a group of cells of porous material whose air needs time to give its heat to the fibres.
// A part of their compliance follows a pressure s that lags behind:
//
//	C dp/dt + B ds/dt = flow,   τ ds/dt + s = p
//
// Both equations use means of before and after, so that the lag adds damping and never needs a
// shorter step.
type heat struct {
	b octet // s after = (1-2b) s + b (p after + p)
	r octet // 2b B/(C + B b)
}

// relax moves the lagging pressure of lane l towards the present one. It returns the pressure of
// the step before, changed by what the lag contributes to the next step, and the new lagging
// pressure.
func (h *heat) relax(l int, before, now, lag float32) (float32, float32) {
	change := h.b[l] * ((now - lag) + (before - lag))
	return before - h.r[l]*((before-now)+change), lag + change
}
