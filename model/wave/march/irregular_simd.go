//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march takes all groups one step, as portable does.
func (o *irregularCells) march(vectors bool, z *state, next, now []float32) {
	if !vectors {
		o.portable(z, next, now)
		return
	}
	o.vector(&o.hot, &z.flow, z.lag, next, now)
	o.vector(&o.drag, &z.flow, nil, next, now)
	o.vector(&o.plain, nil, nil, next, now)
	archsimd.ClearAVXUpperBits()
}

// vector is portable for groups alike, eight cells at a time. flow is nil if they have no drag
// faces, lag if they have no heat times.
func (o *irregularCells) vector(g *groups[irregularKind], flow *[3][]float32, lag []octet, next, now []float32) {
	if len(g.list) == 0 {
		return
	}
	// All reads and writes lie between these.
	first, last := g.first, g.last+vector.Lanes-1
	reach := o.stride[1] + o.stride[2] + 1
	_, _, _, _ = now[first-reach], now[last+reach], next[first], next[last]
	a := irregularArrays{next: unsafe.Pointer(&next[0]), now: unsafe.Pointer(&now[0]), sy: 4 * o.stride[1], sz: 4 * o.stride[2]}
	if flow != nil {
		for i, f := range flow {
			_, _ = f[first-o.stride[2]], f[last]
			a.flow[i] = unsafe.Pointer(&f[0])
		}
	}
	a.march(g.list, lag)
}

// irregularArrays is where the vector kernel reads and writes: the starts of the arrays, and their
// strides in bytes. Without drag faces flow is nil.
type irregularArrays struct {
	next, now unsafe.Pointer
	flow      [3]unsafe.Pointer
	sy, sz    int
}

// march takes groups one step. A pointer that walks from row to row, and weights at fixed distances
// from another one, keep the processor from computing addresses.
func (a irregularArrays) march(list []group[irregularKind], lag []octet) {
	sy, down := a.sy, a.sz-2*a.sy
	for n := range list {
		k, at := list[n].kind, 4*list[n].at
		w, p, out := &k.near, unsafe.Add(a.now, at), unsafe.Add(a.next, at)
		mid, before := vector.Load(p), vector.Load(out)
		if lag != nil {
			before = k.heat.vector(before, mid, &lag[n])
		}
		// The neighbours come in the order of [neighbourOffsets]. The two sums are independent.
		sum := read8(&k.self).Mul(mid).Sub(before)
		p = unsafe.Add(p, -a.sz-sy)
		sum = read8(&w[0]).MulAdd(vector.Load(p), sum)
		p = unsafe.Add(p, sy)
		more := read8(&w[1]).Mul(left8(p))
		sum = read8(&w[2]).MulAdd(vector.Load(p), sum)
		more = read8(&w[3]).MulAdd(right8(p), more)
		p = unsafe.Add(p, sy)
		sum = read8(&w[4]).MulAdd(vector.Load(p), sum)

		p = unsafe.Add(p, down)
		more = read8(&w[5]).MulAdd(left8(p), more)
		sum = read8(&w[6]).MulAdd(vector.Load(p), sum)
		more = read8(&w[7]).MulAdd(right8(p), more)
		p = unsafe.Add(p, sy)
		sum = read8(&w[8]).MulAdd(left8(p), sum)
		more = read8(&w[9]).MulAdd(right8(p), more)
		p = unsafe.Add(p, sy)
		sum = read8(&w[10]).MulAdd(left8(p), sum)
		more = read8(&w[11]).MulAdd(vector.Load(p), more)
		sum = read8(&w[12]).MulAdd(right8(p), sum)

		p = unsafe.Add(p, down)
		more = read8(&w[13]).MulAdd(vector.Load(p), more)
		p = unsafe.Add(p, sy)
		sum = read8(&w[14]).MulAdd(left8(p), sum)
		more = read8(&w[15]).MulAdd(vector.Load(p), more)
		sum = read8(&w[16]).MulAdd(right8(p), sum)
		p = unsafe.Add(p, sy)
		more = read8(&w[17]).MulAdd(vector.Load(p), more)
		sum = sum.Add(more)
		if a.flow[0] != nil {
			sum = read8(&k.gain).MulAdd(a.inflow(at), sum)
		}
		sum.Store((*[vector.Lanes]float32)(out))
	}
}

// inflow returns what flows into the cells of a group through their drag faces.
func (a *irregularArrays) inflow(at int) archsimd.Float32x8 {
	x, y, z := unsafe.Add(a.flow[0], at), unsafe.Add(a.flow[1], at), unsafe.Add(a.flow[2], at)
	return left8(x).Sub(vector.Load(x)).
		Add(vector.Load(unsafe.Add(y, -a.sy)).Sub(vector.Load(y))).
		Add(vector.Load(unsafe.Add(z, -a.sz)).Sub(vector.Load(z)))
}

// vector is relax for a whole group. It returns the changed pressure of the step before.
func (h *heat) vector(before, now archsimd.Float32x8, lag *octet) archsimd.Float32x8 {
	s := read8(lag)
	change := read8(&h.b).Mul(now.Sub(s).Add(before.Sub(s)))
	s.Add(change).Store((*[vector.Lanes]float32)(lag))
	return before.Sub(read8(&h.r).Mul(before.Sub(now).Add(change)))
}

// read8 reads an octet.
func read8(o *octet) archsimd.Float32x8 { return archsimd.LoadFloat32x8((*[vector.Lanes]float32)(o)) }
