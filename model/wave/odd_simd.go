//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// march takes a part of the groups one step, as portable does.
func (o *oddCells) march(vectors bool, z *state, next, now []float32, part [2]int) {
	if !vectors {
		o.portable(z, next, now, part[0], part[1])
		return
	}
	o.vector(z, next, now, part[0], part[1])
	archsimd.ClearAVXUpperBits()
}

// vector is portable, a group at a time.
func (o *oddCells) vector(z *state, next, now []float32, from, to int) {
	sy, sz := o.stride[1], o.stride[2]
	for n := from; n < to; n++ {
		i := int(o.at[n])
		k := &o.kinds[o.kind[n]]
		// All that is read lies between these two.
		_, _ = now[i-sy-sz-1], now[i+lanes+sy+sz]
		p, out := unsafe.Pointer(&now[i]), (*[lanes]float32)(next[i:])
		mid := load8(p)
		before := archsimd.LoadFloat32x8(out)
		if k.hot {
			before = k.heat.vector(before, mid, &z.lag[n])
		}
		sum := read8(&k.self).Mul(mid).Sub(before)
		if k.air != 0 {
			sum = k.near.vector(sum, p, 4*sy, 4*sz)
		}
		for a, drag := range k.drag {
			if drag {
				flow := z.flow[a]
				in, off := (*octet)(flow[i-o.stride[a]:]), (*octet)(flow[i:])
				sum = read8(&k.gain).MulAdd(read8(in).Sub(read8(off)), sum)
			}
		}
		sum.Store(out)
	}
}

// vector adds what the neighbours of the cells from p on give, in the order of
// [neighbours]; sy and sz are strides in bytes. Two sums run side by side.
func (w *octets) vector(sum archsimd.Float32x8, p unsafe.Pointer, sy, sz int) archsimd.Float32x8 {
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
	return sum.Add(more)
}

// vector is relax; it returns the pressure before.
func (h *heat) vector(before, now archsimd.Float32x8, lag *octet) archsimd.Float32x8 {
	s, b := read8(lag), read8(&h.b)
	change := b.Mul(now.Add(before).Sub(s.Add(s)))
	s = s.Add(change)
	s.Store((*[lanes]float32)(lag))
	three := now.Add(now).Add(now)
	return before.Sub(read8(&h.r).Mul(b.MulAdd(s.Add(s).Add(before).Sub(three), change)))
}

// march finds what flows through a part of the groups, as portable does.
func (f *dragFaces) march(vectors bool, flow, was, is, now []float32, part [2]int) {
	if !vectors {
		f.portable(flow, was, is, now, part[0], part[1])
		return
	}
	f.vector(flow, was, is, now, part[0], part[1])
	archsimd.ClearAVXUpperBits()
}

// vector is portable, a group at a time.
func (f *dragFaces) vector(flow, was, is, now []float32, from, to int) {
	step := 4 * f.stride
	for n := from; n < to; n++ {
		i := int(f.at[n])
		k := &f.kinds[f.kind[n]]
		// All that is read and written lies between these.
		low, high := i-f.stride, i+f.stride+lanes-1
		_, _, _, _, _ = now[high], was[low], was[high], is[high], flow[high]
		at, here := unsafe.Pointer(&now[i]), unsafe.Pointer(&was[i])
		p := load8(at).Sub(load8(unsafe.Add(at, step)))
		d := load8(here)
		tie := read8(&k.tieLow).Mul(d.Sub(load8(unsafe.Add(here, -step))))
		tie = read8(&k.tieHigh).MulAdd(d.Sub(load8(unsafe.Add(here, step))), tie)
		change := read8(&k.c).Mul(p).Sub(read8(&k.d).Mul(d))
		change = read8(&k.g).MulAdd(tie, change)
		change.Store((*[lanes]float32)(unsafe.Pointer(&flow[i])))
		slip := read8(&k.a).MulAdd(p, d).Sub(read8(&k.b).Mul(d))
		slip = read8(&k.e).MulAdd(tie, slip)
		slip.Store((*[lanes]float32)(unsafe.Pointer(&is[i])))
	}
}

// read8 reads an octet.
func read8(o *octet) archsimd.Float32x8 { return archsimd.LoadFloat32x8((*[lanes]float32)(o)) }
