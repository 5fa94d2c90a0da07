//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march takes a part of the groups one step, as portable does.
func (o *irregularCells) march(vectors bool, z *state, next, now []float32, part []stretch) {
	if !vectors {
		o.portable(z, next, now, part)
		return
	}
	for _, s := range part {
		o.vector(z, next, now, s)
	}
	archsimd.ClearAVXUpperBits()
}

// vector is portable for one stretch, a group at a time.
func (o *irregularCells) vector(z *state, next, now []float32, s stretch) {
	k, cells := &o.kinds[s.kind], o.cells(s)
	// All reads and writes lie between these.
	first, last := int(cells[0]), int(cells[len(cells)-1])+vector.Lanes-1
	reach := o.stride[1] + o.stride[2] + 1
	_, _, _, _ = now[first-reach], now[last+reach], next[first], next[last]
	k.march(cells, z.lag[s.from:s.to], unsafe.Pointer(&next[0]), unsafe.Pointer(&now[0]), 4*o.stride[1], 4*o.stride[2])
	if k.drag {
		k.drain(cells, next, &z.flow, o.stride)
	}
}

// march takes groups of one kind one step, without the flow through drag faces. next and now are
// the starts of the arrays, sy and sz strides in bytes.
func (k *irregularKind) march(cells []int32, lag []octet, next, now unsafe.Pointer, sy, sz int) {
	w := &k.near
	for n, at := range cells {
		p, out := unsafe.Add(now, 4*int(at)), unsafe.Add(next, 4*int(at))
		mid, before := vector.Load(p), vector.Load(out)
		if k.hot {
			before = k.heat.vector(before, mid, &lag[n])
		}
		sum := read8(&k.self).Mul(mid).Sub(before)
		if k.air != 0 {
			// The neighbours come in the order of [neighbourOffsets]. The two sums are independent.
			yl, yr, zl, zr := unsafe.Add(p, -sy), unsafe.Add(p, sy), unsafe.Add(p, -sz), unsafe.Add(p, sz)
			sum = read8(&w[0]).MulAdd(vector.Load(unsafe.Add(yl, -sz)), sum)
			more := read8(&w[1]).Mul(left8(zl))
			sum = read8(&w[2]).MulAdd(vector.Load(zl), sum)
			more = read8(&w[3]).MulAdd(right8(zl), more)
			sum = read8(&w[4]).MulAdd(vector.Load(unsafe.Add(yr, -sz)), sum)

			more = read8(&w[5]).MulAdd(left8(yl), more)
			sum = read8(&w[6]).MulAdd(vector.Load(yl), sum)
			more = read8(&w[7]).MulAdd(right8(yl), more)
			sum = read8(&w[8]).MulAdd(left8(p), sum)
			more = read8(&w[9]).MulAdd(right8(p), more)
			sum = read8(&w[10]).MulAdd(left8(yr), sum)
			more = read8(&w[11]).MulAdd(vector.Load(yr), more)
			sum = read8(&w[12]).MulAdd(right8(yr), sum)

			more = read8(&w[13]).MulAdd(vector.Load(unsafe.Add(yl, sz)), more)
			sum = read8(&w[14]).MulAdd(left8(zr), sum)
			more = read8(&w[15]).MulAdd(vector.Load(zr), more)
			sum = read8(&w[16]).MulAdd(right8(zr), sum)
			more = read8(&w[17]).MulAdd(vector.Load(unsafe.Add(yr, sz)), more)
			sum = sum.Add(more)
		}
		sum.Store((*[vector.Lanes]float32)(out))
	}
}

// drain adds the flow through drag faces to groups of one kind.
func (k *irregularKind) drain(cells []int32, next []float32, flow *[3][]float32, stride [3]int) {
	gain := read8(&k.gain)
	sy, sz := -4*stride[1], -4*stride[2]
	first, last := int(cells[0]), int(cells[len(cells)-1])+vector.Lanes-1
	for _, f := range flow {
		_, _ = f[first-stride[2]], f[last]
	}
	x, y, z, to := unsafe.Pointer(&flow[0][0]), unsafe.Pointer(&flow[1][0]), unsafe.Pointer(&flow[2][0]), unsafe.Pointer(&next[0])
	for _, cell := range cells {
		at := 4 * int(cell)
		fx, fy, fz, out := unsafe.Add(x, at), unsafe.Add(y, at), unsafe.Add(z, at), unsafe.Add(to, at)
		in := left8(fx).Sub(vector.Load(fx)).
			Add(vector.Load(unsafe.Add(fy, sy)).Sub(vector.Load(fy))).
			Add(vector.Load(unsafe.Add(fz, sz)).Sub(vector.Load(fz)))
		gain.MulAdd(in, vector.Load(out)).Store((*[vector.Lanes]float32)(out))
	}
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
