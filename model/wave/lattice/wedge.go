package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/wave/scene"
)

// wedge is a straight edge at which air turns round something rigid or dense. Close to it, at
// a distance r, the pressure and the stream function of the flow are
//
//	φ = r^λ sin λ(π - |θ|) sgn θ,   ψ = r^λ cos λ(π - |θ|)
//
// with θ from the middle of the wedge, whose faces are at ±δ. In a rigid wedge λ = π/(2π - 2δ).
// In one of κ times the density of air
//
//	κ tan λδ = -tan λ(π - δ)
//
// The powers at edges are those of Meixner (1972), from memory. The flow grows without bound
// at the edge, as r^(λ-1), and cells see too little of it. The error is of the order h^2λ only, where
// all others are of h² or less. [Medium.turn] gives the faces near the edge the flow that they have in
// this solution.
type wedge struct {
	axis     int     // along the edge
	at       r2.Vec  // the edge on the two other axes, in the order of scene.OtherAxes, m
	from, to float64 // its ends, m
	middle   float64 // direction of the middle of the wedge, rad
	half     float64 // δ, rad
	power    float64 // λ
	rigid    bool
}

// newWedge returns a wedge of a density relative to air, which may be infinite.
func newWedge(axis int, at r2.Vec, from, to, middle, half, density float64) wedge {
	w := wedge{
		axis: axis, at: at, from: from, to: to, middle: middle, half: half,
		power: math.Pi / (2*math.Pi - 2*half), rigid: math.IsInf(density, 1),
	}
	if w.rigid {
		return w
	}
	high := 1.0
	for range 40 {
		l := (w.power + high) / 2
		if density*math.Tan(l*half) < -math.Tan(l*(math.Pi-half)) {
			w.power = l
		} else {
			high = l
		}
	}
	return w
}

// turned returns the distance of a place from the edge, and its θ.
func (w *wedge) turned(p r2.Vec) (r, theta float64) {
	d := r2.Sub(p, w.at)
	return r2.Norm(d), math.Remainder(math.Atan2(d.Y, d.X)-w.middle, 2*math.Pi)
}

// potential returns φ. The middle of a cell may lie in a rigid wedge; φ goes on there without slope at
// the faces, as the pressure of cut cells does.
func (w *wedge) potential(p r2.Vec) float64 {
	r, theta := w.turned(p)
	size, inside := math.Pow(r, w.power), math.Abs(theta) < w.half
	switch {
	case inside && w.rigid:
		return size * math.Sin(math.Pi/2*theta/w.half)
	case inside:
		return size * math.Sin(w.power*theta) * math.Sin(w.power*(math.Pi-w.half)) / math.Sin(w.power*w.half)
	}
	return math.Copysign(size*math.Sin(w.power*(math.Pi-math.Abs(theta))), theta)
}

// stream returns ψ. There is no flow in a rigid wedge.
func (w *wedge) stream(p r2.Vec) float64 {
	r, theta := w.turned(p)
	size, inside := math.Pow(r, w.power), math.Abs(theta) < w.half
	switch {
	case inside && w.rigid:
		return 0
	case inside:
		return size * math.Cos(w.power*theta) * math.Cos(w.power*(math.Pi-w.half)) / math.Cos(w.power*w.half)
	}
	return size * math.Cos(w.power*(math.Pi-math.Abs(theta)))
}

// through returns the flow through what the wedge leaves of a line, and that share of it.
func (w *wedge) through(a, b r2.Vec) (flow, open float64) {
	const points = 64
	before := w.stream(a)
	for i := range points {
		part := r2.Scale(1.0/points, r2.Sub(b, a))
		middle := r2.Add(a, r2.Scale(float64(i)+0.5, part))
		after := w.stream(r2.Add(middle, r2.Scale(0.5, part)))
		if _, theta := w.turned(middle); math.Abs(theta) >= w.half {
			flow, open = flow+after-before, open+1.0/points
		}
		before = after
	}
	return flow, open
}

const (
	// turnReach is how far from an edge the middles of the faces are that are corrected, in cells.
	turnReach = 1.2

	// leastTurn and mostTurn limit the correction. It is left out where φ hardly differs between the
	// two cells, less than minRise of h^λ.
	leastTurn, mostTurn = 0.5, 1.6
	minRise             = 0.25
)

// correction returns the flow through a face in proportion to what the difference between its two
// cells gives, 1 if it is to be left alone. It takes the middle of the lower cell, the vector to the
// next one, and from the middle of the face to its end on the left of that vector.
func (w *wedge) correction(low, step, left r2.Vec) float64 {
	middle := r2.Add(low, r2.Scale(0.5, step))
	size := max(r2.Norm(step), 2*r2.Norm(left))
	if r2.Norm(r2.Sub(middle, w.at)) > turnReach*size {
		return 1
	}
	from, to := r2.Sub(middle, left), r2.Add(middle, left)
	rise := w.potential(r2.Add(low, step)) - w.potential(low)
	flow, open := w.through(from, to)
	if math.Abs(rise) < minRise*math.Pow(size, w.power) || open == 0 {
		return 1
	}
	flow *= r2.Norm(step) / (2 * r2.Norm(left))
	return min(mostTurn, max(leastTurn, flow/(rise*open)))
}

// turn opens the faces near an edge as the flow round it wants. Faces with drag stay as they are.
func (m *Medium) turn(w wedge) {
	a, b := scene.OtherAxes(w.axis)
	h := r2.Vec{X: m.H[a], Y: m.H[b]}
	var first, last [3]int
	for t, x := range map[int]float64{a: w.at.X, b: w.at.Y} {
		at := int(math.Floor(x / m.H[t]))
		first[t], last[t] = max(0, at-2), min(m.N[t]-1, at+2)
	}
	first[w.axis], last[w.axis] = max(0, int(w.from/m.H[w.axis])), min(m.N[w.axis]-1, int(w.to/m.H[w.axis]))
	var c [3]int
	for c[a] = first[a]; c[a] <= last[a]; c[a]++ {
		for c[b] = first[b]; c[b] <= last[b]; c[b]++ {
			low := r2.Vec{X: (float64(c[a]) + 0.5) * h.X, Y: (float64(c[b]) + 0.5) * h.Y}
			forA := w.correction(low, r2.Vec{X: h.X}, r2.Vec{Y: h.Y / 2})
			forB := w.correction(low, r2.Vec{Y: h.Y}, r2.Vec{X: -h.X / 2})
			for c[w.axis] = first[w.axis]; c[w.axis] <= last[w.axis]; c[w.axis]++ {
				i, along := m.At(c[0], c[1], c[2]), float64(c[w.axis])*m.H[w.axis]
				share := max(0, min(w.to, along+m.H[w.axis])-max(w.from, along)) / m.H[w.axis]
				m.widen(face{a, i}, 1+share*(forA-1))
				m.widen(face{b, i}, 1+share*(forB-1))
			}
		}
	}
}

// widen multiplies the open share of a face, unless it has drag.
func (m *Medium) widen(f face, by float64) {
	if m.loads[f.axis] == nil || m.loads[f.axis][f.cell].drag == 0 {
		m.open[f.axis][f.cell] *= by
	}
}
