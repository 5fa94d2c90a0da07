package table

import (
	"evenbass/optimize/geometry"
	"math"
)

// axis interpolates on Chebyshev nodes of the first kind by the barycentric formula (Berrut
// and Trefethen, SIAM Review 46, 2004, eqs. (4.2) and (5.3)).
type axis struct {
	span  geometry.Span
	nodes []float64 // m
	sign  []float64 // barycentric weights
}

// maxNodes bounds the nodes of one axis.
const maxNodes = 48

// newAxis returns an axis with n nodes; a span without length has one node.
func newAxis(s geometry.Span, n int) axis {
	if s.Length() < 1e-9 {
		n = 1
	}
	n = min(n, maxNodes)
	a := axis{span: s, nodes: make([]float64, n), sign: make([]float64, n)}
	for i := range n {
		sin, cos := math.Sincos(float64(2*i+1) * math.Pi / float64(2*n))
		a.nodes[i] = (s.Lo+s.Hi)/2 - cos*s.Length()/2
		a.sign[i] = sin
		if i%2 == 1 {
			a.sign[i] = -sin
		}
	}
	return a
}

// weights fills dst, which must have room for all nodes, with the weight of each node at v
// and returns it.
func (a *axis) weights(dst []float64, v float64) []float64 {
	dst = dst[:len(a.nodes)]
	var sum float64
	for i, x := range a.nodes {
		if geometry.Same(v, x) {
			clear(dst)
			dst[i] = 1
			return dst
		}
		dst[i] = a.sign[i] / (v - x)
		sum += dst[i]
	}
	for i := range dst {
		dst[i] /= sum
	}
	return dst
}

// shares returns the nodes that count at v, with their weights.
func (a *axis) shares(v float64) []nodeWeight {
	var room [maxNodes]float64
	var list []nodeWeight
	for i, w := range a.weights(room[:], v) {
		if w != 0 {
			list = append(list, nodeWeight{w, i})
		}
	}
	return list
}

// NodesFor returns how many nodes resolve a wave of wavenumber k along a length to within
// the tolerance. The Chebyshev series of e^{jkx} has the coefficients 2 J_n(kℓ/2)
// (Jacobi-Anger), of which the first one left out is below 2 (kℓ/4)^n/n!.
func NodesFor(k, length, tolerance float64) int {
	term := 2.0
	for n := 1; n < maxNodes; n++ {
		term *= k * length / 4 / float64(n)
		if term < tolerance && float64(n) > k*length/4 {
			return n
		}
	}
	return maxNodes
}
