//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
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
	// All that is read and written lies between these.
	first, last := int(cells[0]), int(cells[len(cells)-1])+lanes-1
	reach := o.stride[1] + o.stride[2] + 1
	_, _, _, _ = now[first-reach], now[last+reach], next[first], next[last]
	k.march(cells, z.lag[s.from:s.to], unsafe.Pointer(&next[0]), unsafe.Pointer(&now[0]), 4*o.stride[1], 4*o.stride[2])
	if k.drag {
		k.drain(cells, next, &z.flow, o.stride)
	}
}

// march takes groups of one kind one step, but for what flows through drag faces.
// next and now are the begins of the arrays, sy and sz strides in bytes.
func (k *irregularKind) march(cells []int32, lag []octet, next, now unsafe.Pointer, sy, sz int) {
	w := &k.near
	for n, at := range cells {
		p, out := unsafe.Add(now, 4*int(at)), unsafe.Add(next, 4*int(at))
		mid, before := load8(p), load8(out)
		if k.hot {
			before = k.heat.vector(before, mid, &lag[n])
		}
		sum := read8(&k.self).Mul(mid).Sub(before)
		if k.air != 0 {
			// The neighbours come in the order of [neighbours]. Two sums run side by side.
			yl, yr, zl, zr := unsafe.Add(p, -sy), unsafe.Add(p, sy), unsafe.Add(p, -sz), unsafe.Add(p, sz)
			sum = read8(&w[0]).MulAdd(load8(unsafe.Add(yl, -sz)), sum)
			more := read8(&w[1]).Mul(left8(zl))
			sum = read8(&w[2]).MulAdd(load8(zl), sum)
			more = read8(&w[3]).MulAdd(right8(zl), more)
			sum = read8(&w[4]).MulAdd(load8(unsafe.Add(yr, -sz)), sum)

			more = read8(&w[5]).MulAdd(left8(yl), more)
			sum = read8(&w[6]).MulAdd(load8(yl), sum)
			more = read8(&w[7]).MulAdd(right8(yl), more)
			sum = read8(&w[8]).MulAdd(left8(p), sum)
			more = read8(&w[9]).MulAdd(right8(p), more)
			sum = read8(&w[10]).MulAdd(left8(yr), sum)
			more = read8(&w[11]).MulAdd(load8(yr), more)
			sum = read8(&w[12]).MulAdd(right8(yr), sum)

			more = read8(&w[13]).MulAdd(load8(unsafe.Add(yl, sz)), more)
			sum = read8(&w[14]).MulAdd(left8(zr), sum)
			more = read8(&w[15]).MulAdd(load8(zr), more)
			sum = read8(&w[16]).MulAdd(right8(zr), sum)
			more = read8(&w[17]).MulAdd(load8(unsafe.Add(yr, sz)), more)
			sum = sum.Add(more)
		}
		sum.Store((*[lanes]float32)(out))
	}
}

// drain adds to groups of one kind what flows into them through drag faces.
func (k *irregularKind) drain(cells []int32, next []float32, flow *[3][]float32, stride [3]int) {
	gain := read8(&k.gain)
	sy, sz := -4*stride[1], -4*stride[2]
	first, last := int(cells[0]), int(cells[len(cells)-1])+lanes-1
	for _, f := range flow {
		_, _ = f[first-stride[2]], f[last]
	}
	x, y, z, to := unsafe.Pointer(&flow[0][0]), unsafe.Pointer(&flow[1][0]), unsafe.Pointer(&flow[2][0]), unsafe.Pointer(&next[0])
	for _, cell := range cells {
		at := 4 * int(cell)
		fx, fy, fz, out := unsafe.Add(x, at), unsafe.Add(y, at), unsafe.Add(z, at), unsafe.Add(to, at)
		in := left8(fx).Sub(load8(fx)).
			Add(load8(unsafe.Add(fy, sy)).Sub(load8(fy))).
			Add(load8(unsafe.Add(fz, sz)).Sub(load8(fz)))
		gain.MulAdd(in, load8(out)).Store((*[lanes]float32)(out))
	}
}

// vector is relax; it returns the pressure before.
func (h *heat) vector(before, now archsimd.Float32x8, lag *octet) archsimd.Float32x8 {
	s := read8(lag)
	change := read8(&h.b).Mul(now.Sub(s).Add(before.Sub(s)))
	s.Add(change).Store((*[lanes]float32)(lag))
	return before.Sub(read8(&h.r).Mul(before.Sub(now).Add(change)))
}

// march finds what flows through a part of the groups, as portable does.
func (f *dragFaces) march(vectors bool, flow, was, is, now []float32, part []stretch) {
	if !vectors {
		f.portable(flow, was, is, now, part)
		return
	}
	for _, s := range part {
		f.vector(flow, was, is, now, s)
	}
	archsimd.ClearAVXUpperBits()
}

// vector is portable for one stretch, a group at a time.
func (f *dragFaces) vector(flow, was, is, now []float32, s stretch) {
	cells := f.cells(s)
	// All that is read and written lies between these.
	low, high := int(cells[0])-f.stride, int(cells[len(cells)-1])+f.stride+lanes-1
	_, _, _, _, _, _ = now[low], now[high], was[low], was[high], is[high], flow[high]
	f.kinds[s.kind].march(cells, unsafe.Pointer(&flow[0]), unsafe.Pointer(&was[0]), unsafe.Pointer(&is[0]), unsafe.Pointer(&now[0]), 4*f.stride)
}

// march takes groups of one kind one step. The others are the begins of the arrays, step
// is the stride in bytes.
func (k *dragKind) march(cells []int32, flow, was, is, now unsafe.Pointer, step int) {
	keep, a, e, c, d := read8(&k.k), read8(&k.a), read8(&k.e), read8(&k.c), read8(&k.d)
	low, high := read8(&k.couplingLow), read8(&k.couplingHigh)
	for _, cell := range cells {
		at := 4 * int(cell)
		here, pressure := unsafe.Add(was, at), unsafe.Add(now, at)
		slip := load8(here)
		p := load8(pressure).Sub(load8(unsafe.Add(pressure, step)))
		tie := low.Mul(slip.Sub(load8(unsafe.Add(here, -step))))
		tie = high.MulAdd(slip.Sub(load8(unsafe.Add(here, step))), tie)
		then := e.MulAdd(tie, a.MulAdd(p, keep.Mul(slip)))
		then.Store((*[lanes]float32)(unsafe.Add(is, at)))
		change := c.Mul(p.Add(tie)).Sub(d.Mul(slip.Add(then)))
		change.Store((*[lanes]float32)(unsafe.Add(flow, at)))
	}
}

// read8 reads an octet.
func read8(o *octet) archsimd.Float32x8 { return archsimd.LoadFloat32x8((*[lanes]float32)(o)) }
