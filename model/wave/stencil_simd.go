//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// lanes is the number of cells that are marched at once.
const lanes = 8

// row marches the cells from..to of one row, eight at a time: see portable.
func (s *stencil) row(next, now []float32, from, to int) {
	if to-from < lanes || !archsimd.X86.AVX2() || !archsimd.X86.FMA() {
		s.portable(next, now, from, to)
		return
	}
	s.vector(next, now, from, to)
	archsimd.ClearAVXUpperBits() // or all that follows runs at half speed
}

// vector is portable for rows of eight cells and more. The last eight are found
// first and stored last, since they may overlap those before.
func (s *stencil) vector(next, now []float32, from, to int) {
	n := to - from
	out := next[from:to]
	mid := now[from-1:][:n+2]
	yl, yr := now[from-s.sy-1:][:n+2], now[from+s.sy-1:][:n+2]
	zl, zr := now[from-s.sz-1:][:n+2], now[from+s.sz-1:][:n+2]
	ll, lr := now[from-s.sy-s.sz:][:n], now[from+s.sy-s.sz:][:n]
	rl, rr := now[from-s.sy+s.sz:][:n], now[from+s.sy+s.sz:][:n]

	self := archsimd.BroadcastFloat32x8(s.self)
	cx, cy, cz := archsimd.BroadcastFloat32x8(s.x), archsimd.BroadcastFloat32x8(s.y), archsimd.BroadcastFloat32x8(s.z)
	xy, xz, yz := archsimd.BroadcastFloat32x8(s.xy), archsimd.BroadcastFloat32x8(s.xz), archsimd.BroadcastFloat32x8(s.yz)
	var end archsimd.Float32x8
	last := n - lanes
	for i, step := last, -last; ; i, step = i+step, lanes {
		// Left, middle and right of the cells in each row: loads that overlap cost
		// less than shuffles.
		x := load8(mid, i).Add(load8(mid, i+2))
		yOut := load8(yl, i).Add(load8(yr, i)).Add(load8(yl, i+2).Add(load8(yr, i+2)))
		zOut := load8(zl, i).Add(load8(zr, i)).Add(load8(zl, i+2).Add(load8(zr, i+2)))
		y := load8(yl, i+1).Add(load8(yr, i+1))
		z := load8(zl, i+1).Add(load8(zr, i+1))
		d := load8(ll, i).Add(load8(lr, i)).Add(load8(rl, i).Add(load8(rr, i)))
		sum := self.Mul(load8(mid, i+1)).Sub(load8(out, i))
		sum = cx.MulAdd(x, sum)
		sum = cy.MulAdd(y, sum)
		sum = cz.MulAdd(z, sum)
		sum = yz.MulAdd(d, sum)
		sum = xy.MulAdd(yOut, sum)
		sum = xz.MulAdd(zOut, sum)
		if step != lanes {
			end = sum
		} else {
			sum.Store((*[lanes]float32)(out[i:]))
		}
		if next := i + step; step == lanes && next >= last || step != lanes && last == 0 {
			break
		}
	}
	end.Store((*[lanes]float32)(out[last:]))
}

// load8 reads eight cells from s[i] on. All rows are cut to the length that the
// loop needs before it begins, so nothing is checked again here: the checks would
// take half the time.
func load8(s []float32, i int) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[lanes]float32)(unsafe.Add(unsafe.Pointer(unsafe.SliceData(s)), 4*i)))
}
