package table

import (
	"evenbass/optimize/geometry"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// seatNodes are the places of the ears at which a table asks the engine for its field: a
// tensor grid of Chebyshev nodes. Where the y of the ears is given, the grid is one line.
// Each line beside it, to which the ears are displaced, has nodes of its own for the
// difference from the line of the grid. That difference is a fraction of the field and needs
// fewer nodes.
type seatNodes struct {
	x, y  axis
	sides []side
	ears  float64
}

// side is a line beside that of the grid.
type side struct {
	y float64
	x axis
}

// newSeatNodes places nodes for the seats of a domain; fit and fitSide make the axes of the
// grid and of the lines beside it.
func newSeatNodes(d Domain, fit, fitSide func(geometry.Span) axis) seatNodes {
	n := seatNodes{x: fit(d.Seats.X), ears: d.Ears}
	if len(d.Line) == 0 {
		n.y = fit(d.Seats.Y)
		return n
	}
	n.y = fit(geometry.Span{Lo: d.Line[0], Hi: d.Line[0]})
	for _, y := range d.Line[1:] {
		n.sides = append(n.sides, side{y, fitSide(d.Seats.X)})
	}
	return n
}

// Places lists the nodes: those of the grid x by x, then those of the lines beside it.
func (n *seatNodes) Places() []r3.Vec {
	var list []r3.Vec
	for _, x := range n.x.nodes {
		for _, y := range n.y.nodes {
			list = append(list, r3.Vec{X: x, Y: y, Z: n.ears})
		}
	}
	for _, s := range n.sides {
		for _, x := range s.x.nodes {
			list = append(list, r3.Vec{X: x, Y: s.y, Z: n.ears})
		}
	}
	return list
}

// side returns the line beside the grid that holds a seat, with the number of its first
// node, or nil.
func (n *seatNodes) side(y float64) (*side, int) {
	first := len(n.x.nodes) * len(n.y.nodes)
	for i := range n.sides {
		if s := &n.sides[i]; geometry.Same(s.y, y) {
			return s, first
		}
		first += len(n.sides[i].x.nodes)
	}
	return nil, 0
}

// holds reports whether the nodes cover a seat.
func (n *seatNodes) holds(seat r3.Vec) bool {
	if !n.x.span.Contains(seat.X) || !geometry.Same(seat.Z, n.ears) {
		return false
	}
	s, _ := n.side(seat.Y)
	return s != nil || n.y.span.Contains(seat.Y)
}

// weights returns the nodes that count for a seat, with their weights.
func (n *seatNodes) weights(seat r3.Vec) []nodeWeight {
	var bx, by [maxNodes]float64
	grid := n.x.weights(bx[:], seat.X)
	s, first := n.side(seat.Y)
	var list []nodeWeight
	if s != nil {
		list = s.weights(&n.x, grid, first, seat.X)
	}
	wy := n.y.weights(by[:], seat.Y)
	for i, a := range grid {
		for j, b := range wy {
			if a*b != 0 {
				list = append(list, nodeWeight{a * b, i*len(wy) + j})
			}
		}
	}
	return list
}

// weights returns the weights of the line's own nodes at x, and takes what the grid
// gives for those nodes off the grid's weights: the sum of both is the grid's value
// plus the interpolated difference.
func (s *side) weights(grid *axis, weights []float64, first int, x float64) []nodeWeight {
	var own, at [maxNodes]float64
	var list []nodeWeight
	for j, v := range s.x.weights(own[:], x) {
		if v == 0 {
			continue
		}
		list = append(list, nodeWeight{v, first + j})
		for i, w := range grid.weights(at[:], s.x.nodes[j]) {
			weights[i] -= v * w
		}
	}
	return list
}

// Lines returns the values of y for ears on a line and displaced from it by at most shift,
// that of the line first.
func Lines(y, shift float64, room geometry.Span) []float64 {
	list := []float64{geometry.Round(y)}
	for _, v := range []float64{y - shift, y + shift} {
		if v = geometry.Round(room.Clamp(v)); !slices.Contains(list, v) {
			list = append(list, v)
		}
	}
	return list
}
