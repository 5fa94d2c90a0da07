package wave

// stencil holds the coefficients of the 19-point leapfrog in plain air, by the
// neighbour that each multiplies.
type stencil struct {
	self       float32 // of the cell itself, the 2 of the leapfrog included
	x, y, z    float32 // across a face
	xy, xz, yz float32 // across an edge
	sy, sz     int     // strides
}

// newStencil returns the coefficients for (cT)² in m².
func newStencil(l *lattice, ct2 float64) stencil {
	var face, edge [3]float64 // edge[a] is the square normal to a
	for a := range 3 {
		b, c := others(a)
		if l.n[a] > 1 {
			face[a] = ct2 / (l.h[a] * l.h[a])
		}
		if l.n[b] > 1 && l.n[c] > 1 {
			hb2, hc2 := l.h[b]*l.h[b], l.h[c]*l.h[c]
			edge[a] = ct2 * (hb2 + hc2) / (12 * hb2 * hc2)
		}
	}
	return stencil{
		self: float32(2 - 2*(face[0]+face[1]+face[2]) + 4*(edge[0]+edge[1]+edge[2])),
		x:    float32(face[0] - 2*edge[2] - 2*edge[1]),
		y:    float32(face[1] - 2*edge[2] - 2*edge[0]),
		z:    float32(face[2] - 2*edge[1] - 2*edge[0]),
		xy:   float32(edge[2]), xz: float32(edge[1]), yz: float32(edge[0]),
		sy: l.stride[1], sz: l.stride[2],
	}
}

// rows marches runs of cells, see portable.
func (s *stencil) rows(next, now []float32, rows []span) {
	for _, r := range rows {
		s.portable(next, now, int(r.from), int(r.to))
	}
}

// portable marches the cells from..to of one row: next holds the pressures of the
// step before and receives those of the step to come.
func (s *stencil) portable(next, now []float32, from, to int) {
	n := to - from
	// Slices of one known length let the compiler drop the bounds checks.
	out := next[from:to:to]
	mid := now[from-1:][:n+2]
	yl, yr := now[from-s.sy-1:][:n+2], now[from+s.sy-1:][:n+2]
	zl, zr := now[from-s.sz-1:][:n+2], now[from+s.sz-1:][:n+2]
	ll, lr := now[from-s.sy-s.sz:][:n], now[from+s.sy-s.sz:][:n]
	rl, rr := now[from-s.sy+s.sz:][:n], now[from+s.sy+s.sz:][:n]

	y, z := yl[0]+yr[0], zl[0]+zr[0]
	before := s.xy*y + s.xz*z
	y, z = yl[1]+yr[1], zl[1]+zr[1]
	here := s.xy*y + s.xz*z
	p, q := mid[0], mid[1]
	for i := range out {
		ynext, znext := yl[i+2]+yr[i+2], zl[i+2]+zr[i+2]
		after := s.xy*ynext + s.xz*znext
		r := mid[i+2]
		out[i] = s.self*q - out[i] + s.x*(p+r) + s.y*y + s.z*z +
			s.yz*((ll[i]+lr[i])+(rl[i]+rr[i])) + (before + after)
		before, here = here, after
		p, q, y, z = q, r, ynext, znext
	}
}
