package march

import (
	"math"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
)

// stencil holds the coefficients of the 19-point leapfrog in plain air, by the neighbour that each
// multiplies.
type stencil struct {
	self       float32 // the cell itself, including the 2 of the leapfrog
	x, y, z    float32 // across a face
	xy, xz, yz float32 // across an edge
	sy, sz     int     // strides
	n          int     // cells in a row
	first      int     // array index of the first cell of a row of ghosts
}

// newStencil returns the coefficients for (cT)² in m².
func newStencil(l *lattice.Cells, ct2 float64) stencil {
	var face, edge [3]float64 // edge[a] belongs to the squares normal to a
	for a := range 3 {
		b, c := scene.OtherAxes(a)
		if l.N[a] > 1 {
			face[a] = ct2 / (l.H[a] * l.H[a])
		}
		if l.N[b] > 1 && l.N[c] > 1 {
			hb2, hc2 := l.H[b]*l.H[b], l.H[c]*l.H[c]
			edge[a] = ct2 * (hb2 + hc2) / (12 * hb2 * hc2)
		}
	}
	s := stencil{
		x:  float32(face[0] - 2*edge[2] - 2*edge[1]),
		y:  float32(face[1] - 2*edge[2] - 2*edge[0]),
		z:  float32(face[2] - 2*edge[1] - 2*edge[0]),
		xy: float32(edge[2]), xz: float32(edge[1]), yz: float32(edge[0]),
		sy: l.Stride[1], sz: l.Stride[2], n: l.N[0], first: l.At(0, -1, -1),
	}
	faces, edges := float64(s.x)+float64(s.y)+float64(s.z), float64(s.xy)+float64(s.xz)+float64(s.yz)
	s.self = roundDown(2 - 2*faces - 4*edges)
	return s
}

// roundDown returns the nearest single-precision number that is not above x. If rounding made the
// weights of a cell sum to 2 + ε, a uniform pressure would grow by √ε a step.
func roundDown(x float64) float32 {
	y := float32(x)
	if float64(y) > x {
		y = math.Nextafter32(y, float32(math.Inf(-1)))
	}
	return y
}

// scratch is what the portable kernel remembers of the rows behind it, by cell.
type scratch struct {
	aside   []float32 // contribution of the last row to its neighbours in the plane
	own     []float32 // the last row's own sum, including the row before it
	discard []float32 // takes the sums of cells outside the given rows
}

// newScratch returns working memory for the portable kernel.
func (s *stencil) newScratch() *scratch {
	return &scratch{make([]float32, s.n), make([]float32, s.n), make([]float32, s.n)}
}

// portable takes the cells of rows one step. The rows must be in order and in one plane. next holds
// the pressures of the step before and receives those of the step to come.
func (s *stencil) portable(next, now []float32, rows []span, t *scratch) {
	if len(rows) == 0 {
		return
	}
	// Each row is complete once the next one has been passed.
	first, last := s.begin(rows[0]), s.begin(rows[len(rows)-1])
	for at := first - s.sy; at <= last+s.sy; at += s.sy {
		x := 0
		for len(rows) > 0 && int(rows[0].from) < at {
			before := at - s.sy
			from, to := int(rows[0].from)-before, int(rows[0].to)-before
			s.pass(t, t.discard[x:from], now, at+x, x)
			s.pass(t, next[before+from:before+to], now, at+from, from)
			x, rows = to, rows[1:]
		}
		s.pass(t, t.discard[x:], now, at+x, x)
	}
}

// joined returns the rows of one plane with consecutive whole rows of a width in cells joined,
// including the ghosts between them, of which those that cells read are mirrored afterwards.
func (s *stencil) joined(rows []span, width int) (list []span) {
	whole := func(r span) bool { return int(r.to-r.from) == width }
	for i, r := range rows {
		if i > 0 && whole(r) && whole(rows[i-1]) && int(r.from-rows[i-1].from) == s.sy {
			list[len(list)-1].to = r.to
		} else {
			list = append(list, r)
		}
	}
	return list
}

// begin returns the first cell of the row of a span.
func (s *stencil) begin(r span) int { return int(r.from) - (int(r.from)-s.first)%s.sy }

// pass goes over cells of a row, from cell at on, which is number x in its row, and completes the
// cells out in the row before. It computes only once what a row gives to the two rows beside it.
func (s *stencil) pass(t *scratch, out, now []float32, at, x int) {
	n := len(out)
	if n == 0 {
		return
	}
	// Slices of one known length let the compiler drop bounds checks.
	mid, below, above := now[at+1:][:n], now[at+1-s.sz:][:n], now[at+1+s.sz:][:n]
	aside, own := t.aside[x:][:n], t.own[x:][:n]
	self, cx, cy, cz, xy, xz, yz := s.self, s.x, s.y, s.z, s.xy, s.xz, s.yz
	p, q := now[at-1], now[at]
	y, z := now[at-1-s.sz]+now[at-1+s.sz], now[at-s.sz]+now[at+s.sz]
	for i := range out {
		r, after := mid[i], below[i]+above[i]
		beside := p + r
		give := cy*q + yz*z + xy*beside
		out[i] = (own[i] - out[i]) + give // this order loses least to rounding
		own[i] = self*q + cx*beside + cz*z + xz*(y+after) + aside[i]
		aside[i] = give
		p, q, y, z = q, r, z, after
	}
}
