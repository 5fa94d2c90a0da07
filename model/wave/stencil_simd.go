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
//
// What a cell gives to its neighbours along x, for itself and for those beside it on
// y and z, is one sum. It is found once and shifted: a load that lies across two lines
// of the cache costs two.
func (s *stencil) vector(next, now []float32, rows []span) {
	self := archsimd.BroadcastFloat32x8(s.self)
	cx, cy, cz := archsimd.BroadcastFloat32x8(s.x), archsimd.BroadcastFloat32x8(s.y), archsimd.BroadcastFloat32x8(s.z)
	xy, xz, yz := archsimd.BroadcastFloat32x8(s.xy), archsimd.BroadcastFloat32x8(s.xz), archsimd.BroadcastFloat32x8(s.yz)
	sy, sz := 4*s.sy, 4*s.sz
	for _, row := range rows {
		groups := int(row.to-row.from+lanes-1) / lanes
		// All that is read and written lies between these; a row is no shorter than a group.
		first, last := int(row.from), int(row.from)+groups*lanes-1
		_, _ = now[first-s.sy-s.sz], now[last+s.sy+s.sz]
		_, _ = next[first], next[last]
		p, out := unsafe.Pointer(&now[first-lanes]), unsafe.Pointer(&next[first])

		y := load8(unsafe.Add(p, -sy)).Add(load8(unsafe.Add(p, sy)))
		z := load8(unsafe.Add(p, -sz)).Add(load8(unsafe.Add(p, sz)))
		before := xz.MulAdd(z, xy.MulAdd(y, cx.Mul(load8(p))))
		p = unsafe.Add(p, 4*lanes)
		q := load8(p)
		y = load8(unsafe.Add(p, -sy)).Add(load8(unsafe.Add(p, sy)))
		z = load8(unsafe.Add(p, -sz)).Add(load8(unsafe.Add(p, sz)))
		here := xz.MulAdd(z, xy.MulAdd(y, cx.Mul(q)))
		middle := cz.MulAdd(z, cy.MulAdd(y, self.Mul(q)))
		low := straddle(before, here)
		for range groups {
			yl, yr := unsafe.Add(p, -sy), unsafe.Add(p, sy)
			d := load8(unsafe.Add(yl, -sz)).Add(load8(unsafe.Add(yr, -sz))).
				Add(load8(unsafe.Add(yl, sz)).Add(load8(unsafe.Add(yr, sz))))
			sum := yz.MulAdd(d, middle.Sub(load8(out)))

			p = unsafe.Add(p, 4*lanes)
			q = load8(p)
			y = load8(unsafe.Add(p, -sy)).Add(load8(unsafe.Add(p, sy)))
			z = load8(unsafe.Add(p, -sz)).Add(load8(unsafe.Add(p, sz)))
			after := xz.MulAdd(z, xy.MulAdd(y, cx.Mul(q)))
			middle = cz.MulAdd(z, cy.MulAdd(y, self.Mul(q)))
			high := straddle(here, after)
			sum = sum.Add(fromLeft(low, here).Add(fromRight(here, high)))
			sum.Store((*[lanes]float32)(out))
			low, here = high, after
			out = unsafe.Add(out, 4*lanes)
		}
	}
}

// straddle returns the last four of the cells a and the first four of b, which follow
// them.
func straddle(a, b archsimd.Float32x8) archsimd.Float32x8 { return a.Select128FromPair(1, 2, b) }

// fromLeft moves the cells of here one to the right, low being what straddles their
// begin.
func fromLeft(low, here archsimd.Float32x8) archsimd.Float32x8 {
	return here.AsUint8x32().ConcatShiftBytesRightGrouped(12, low.AsUint8x32()).AsFloat32x8()
}

// fromRight moves the cells of here one to the left, high being what straddles their
// end.
func fromRight(here, high archsimd.Float32x8) archsimd.Float32x8 {
	return high.AsUint8x32().ConcatShiftBytesRightGrouped(4, here.AsUint8x32()).AsFloat32x8()
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
