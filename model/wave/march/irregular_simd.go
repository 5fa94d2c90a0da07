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
	var flow [3]unsafe.Pointer
	if k.drag {
		for a, f := range &z.flow {
			_, _ = f[first-o.stride[2]], f[last]
			flow[a] = unsafe.Pointer(&f[0])
		}
	}
	k.march(cells, z.lag[s.from:s.to], unsafe.Pointer(&next[0]), unsafe.Pointer(&now[0]), flow, 4*o.stride[1], 4*o.stride[2])
}

// march takes groups of one kind one step. next, now and flow are the starts of the arrays, sy and sz
// strides in bytes.
func (k *irregularKind) march(cells []int32, lag []octet, next, now unsafe.Pointer, flow [3]unsafe.Pointer, sy, sz int) {
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
		if k.drag {
			x, y, z := unsafe.Add(flow[0], 4*int(at)), unsafe.Add(flow[1], 4*int(at)), unsafe.Add(flow[2], 4*int(at))
			in := left8(x).Sub(vector.Load(x)).
				Add(vector.Load(unsafe.Add(y, -sy)).Sub(vector.Load(y))).
				Add(vector.Load(unsafe.Add(z, -sz)).Sub(vector.Load(z)))
			sum = read8(&k.gain).MulAdd(in, sum)
		}
		sum.Store((*[vector.Lanes]float32)(out))
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
