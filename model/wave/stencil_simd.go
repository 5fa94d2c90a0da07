//go:build goexperiment.simd && amd64

package wave

import (
	"simd/archsimd"
	"unsafe"
)

// hasVectors reports whether this build and this machine have kernels that march
// eight cells at once.
func hasVectors() bool { return archsimd.X86.AVX2() && archsimd.X86.FMA() }

// march takes the cells of rows one step: eight at a time if vectors is true, else
// as portable does.
func (s *stencil) march(vectors bool, next, now []float32, rows []span) {
	if !vectors {
		s.rows(next, now, rows)
		return
	}
	s.vector(next, now, rows)
	archsimd.ClearAVXUpperBits() // or all that follows runs at half speed
}

// vector is portable for runs of whole groups. The last group of a row may reach
// into the ghosts behind it, which are mirrored afterwards.
func (s *stencil) vector(next, now []float32, rows []span) {
	self := archsimd.BroadcastFloat32x8(s.self)
	cx, cy, cz := archsimd.BroadcastFloat32x8(s.x), archsimd.BroadcastFloat32x8(s.y), archsimd.BroadcastFloat32x8(s.z)
	xy, xz, yz := archsimd.BroadcastFloat32x8(s.xy), archsimd.BroadcastFloat32x8(s.xz), archsimd.BroadcastFloat32x8(s.yz)
	sy, sz := 4*s.sy, 4*s.sz
	for _, row := range rows {
		groups := int(row.to-row.from+lanes-1) / lanes
		// All that is read and written lies between these.
		last := int(row.from) + groups*lanes - 1
		_, _ = now[int(row.from)-1-s.sy-s.sz], now[last+1+s.sy+s.sz]
		_, _ = next[row.from], next[last]
		p := unsafe.Pointer(&now[row.from])
		out := unsafe.Pointer(&next[row.from])
		for range groups {
			yl, yr := unsafe.Add(p, -sy), unsafe.Add(p, sy)
			zl, zr := unsafe.Add(p, -sz), unsafe.Add(p, sz)
			// Left, middle and right of the cells in each row: loads that overlap cost
			// less than shuffles.
			x := left8(p).Add(right8(p))
			yOut := left8(yl).Add(left8(yr)).Add(right8(yl).Add(right8(yr)))
			zOut := left8(zl).Add(left8(zr)).Add(right8(zl).Add(right8(zr)))
			y := load8(yl).Add(load8(yr))
			z := load8(zl).Add(load8(zr))
			d := load8(unsafe.Add(yl, -sz)).Add(load8(unsafe.Add(yr, -sz))).
				Add(load8(unsafe.Add(yl, sz)).Add(load8(unsafe.Add(yr, sz))))
			sum := self.Mul(load8(p)).Sub(load8(out))
			sum = cx.MulAdd(x, sum)
			sum = cy.MulAdd(y, sum)
			sum = cz.MulAdd(z, sum)
			sum = yz.MulAdd(d, sum)
			sum = xy.MulAdd(yOut, sum)
			sum = xz.MulAdd(zOut, sum)
			sum.Store((*[lanes]float32)(out))
			p, out = unsafe.Add(p, 4*lanes), unsafe.Add(out, 4*lanes)
		}
	}
}

// load8 reads eight cells from p on. That they are there was seen before: checks
// here would take half the time.
func load8(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[lanes]float32)(p))
}

// left8 and right8 read the cells one to the left and one to the right.
func left8(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[lanes]float32)(unsafe.Add(p, -4)))
}

func right8(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[lanes]float32)(unsafe.Add(p, 4)))
}
