//go:build goexperiment.simd && amd64

package wave

import "simd/archsimd"

// march takes a part of the batches one step, as portable does.
func (g *wallGroup) march(vectors bool, moves []wallMotion, next, now []float32, part [2]int) {
	if !vectors {
		g.portable(moves, next, now, part[0], part[1])
		return
	}
	g.vector(moves, next, now, part[0], part[1])
	archsimd.ClearAVXUpperBits()
}

// vector is portable, a batch at a time.
func (g *wallGroup) vector(moves []wallMotion, next, now []float32, from, to int) {
	sum := archsimd.BroadcastFloat32x8(g.sum)
	for n := from; n < to; n++ {
		b := &g.batches[n]
		moving := moves[n*len(g.branches):][:len(g.branches)]
		var loose octet
		near := &loose
		if b.row {
			near = (*octet)(now[b.cells[0]:])
		} else {
			for l := range b.count {
				loose[l] = now[b.cells[l]]
			}
		}
		pressure := read8(near)
		flow := sum.Mul(pressure)
		for i := range moving {
			s, m := &g.branches[i], &moving[i]
			flow = flow.Sub(archsimd.BroadcastFloat32x8(s.g).Mul(s.holds(m)))
		}
		flow = flow.Mul(read8(&b.share))
		pressure = pressure.Sub(read8(&b.air).Mul(flow))
		for i := range moving {
			s, m := &g.branches[i], &moving[i]
			u := archsimd.BroadcastFloat32x8(s.g).MulAdd(pressure.Sub(s.holds(m)), read8(&m.u))
			u.Store((*[lanes]float32)(&m.u))
			u.Add(read8(&m.path)).Store((*[lanes]float32)(&m.path))
		}
		flow = flow.Mul(read8(&b.gain))
		if b.row {
			out := (*[lanes]float32)(next[b.cells[0]:])
			archsimd.LoadFloat32x8(out).Sub(flow).Store(out)
			continue
		}
		flow.Store((*[lanes]float32)(&loose))
		for l := range b.count {
			next[b.cells[l]] -= loose[l]
		}
	}
}

// holds returns the pressure that resistance and spring of a branch hold.
func (s *wallBranch) holds(m *wallMotion) archsimd.Float32x8 {
	r, k := archsimd.BroadcastFloat32x8(s.r), archsimd.BroadcastFloat32x8(s.k)
	return k.MulAdd(read8(&m.path), r.Mul(read8(&m.u)))
}
