//go:build goexperiment.simd && amd64

package march

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// march takes the cells of rows in one plane one step: eight at a time if vectors is true,
// otherwise as portable does.
func (s *stencil) march(vectors bool, next, now []float32, rows []span, t *scratch) {
	if !vectors {
		s.portable(next, now, rows, t)
		return
	}
	s.vector(next, now, rows)
	archsimd.ClearAVXUpperBits() // otherwise everything after it runs at half speed
}

// vector is portable for runs of whole groups. The first and the last group of a row may reach into
// its ghosts, of which those that cells read are mirrored afterwards.
func (s *stencil) vector(next, now []float32, rows []span) {
	if len(rows) == 0 {
		return
	}
	// All reads and writes lie between these; a row is no shorter than a group.
	first, last := int(rows[0].from), int(rows[len(rows)-1].to)+vector.Lanes-1
	_, _, _ = now[first-vector.Lanes-s.sy-s.sz], now[last+s.sy+s.sz], next[last]
	s.rows(rows, unsafe.Pointer(&next[0]), unsafe.Pointer(&now[0]), 4*s.sy, 4*s.sz)
}

// rows takes the groups of each row one step. A cell's contribution to its neighbours along x,
// including that of the cells beside it on y and z, is one sum. It is computed once and shifted,
// because a load across two cache lines costs two. So each group is completed only when the next one
// has been read.
//
// next and now are the starts of the arrays, sy and sz strides in bytes. out is a group, ll the lowest
// corner of the block around it. MulAdd overwrites its first operand, which needs no copy if it is not
// used again.
func (s *stencil) rows(list []span, next, now unsafe.Pointer, sy, sz int) {
	self := archsimd.BroadcastFloat32x8(s.self)
	cx, cy, cz := archsimd.BroadcastFloat32x8(s.x), archsimd.BroadcastFloat32x8(s.y), archsimd.BroadcastFloat32x8(s.z)
	xy, xz, yz := archsimd.BroadcastFloat32x8(s.xy), archsimd.BroadcastFloat32x8(s.xz), archsimd.BroadcastFloat32x8(s.yz)
	var discard octet // takes the result before the first group
	for i := range list {
		from, to := 4*int(list[i].from), unsafe.Pointer(&discard)
		out, ll := unsafe.Add(next, from), unsafe.Add(now, from-sy-sz)
		low, rest := cx, cx
		here := aside(unsafe.Add(ll, -4*vector.Lanes), sy, sz, cx, xy, xz)
		for range (int(list[i].to-list[i].from) + vector.Lanes - 1) / vector.Lanes {
			yl := unsafe.Add(ll, sz)
			rl := unsafe.Add(yl, sz)
			zl, mid, zr := unsafe.Add(ll, sy), unsafe.Add(yl, sy), unsafe.Add(rl, sy)
			d := vector.Load(ll).Add(vector.Load(unsafe.Add(zl, sy))).Add(vector.Load(rl).Add(vector.Load(unsafe.Add(zr, sy))))
			y := vector.Load(yl).Add(vector.Load(unsafe.Add(mid, sy)))
			z := vector.Load(zl).Add(vector.Load(zr))
			q := vector.Load(mid)
			after := xz.MulAdd(z, xy.MulAdd(y, cx.Mul(q)))
			high := straddle(here, after)
			rest.Add(fromLeft(low, here).Add(fromRight(here, high))).Store((*[vector.Lanes]float32)(to))
			rest = d.MulAdd(yz, z.MulAdd(cz, y.MulAdd(cy, self.Mul(q).Sub(vector.Load(out)))))
			low, here = high, after
			to, out, ll = out, unsafe.Add(out, 4*vector.Lanes), unsafe.Add(ll, 4*vector.Lanes)
		}
		high := straddle(here, aside(ll, sy, sz, cx, xy, xz))
		rest.Add(fromLeft(low, here).Add(fromRight(here, high))).Store((*[vector.Lanes]float32)(to))
	}
}

// aside returns the contribution of the cells in the middle of a block to those beside them along
// x. ll is the block's lowest corner.
func aside(ll unsafe.Pointer, sy, sz int, cx, xy, xz archsimd.Float32x8) archsimd.Float32x8 {
	mid := unsafe.Add(ll, sy+sz)
	y := vector.Load(unsafe.Add(mid, -sy)).Add(vector.Load(unsafe.Add(mid, sy)))
	z := vector.Load(unsafe.Add(mid, -sz)).Add(vector.Load(unsafe.Add(mid, sz)))
	return xz.MulAdd(z, xy.MulAdd(y, cx.Mul(vector.Load(mid))))
}

// straddle returns the last four of the cells a and the first four of the next cells b.
func straddle(a, b archsimd.Float32x8) archsimd.Float32x8 { return a.Select128FromPair(1, 2, b) }

// fromLeft moves the cells of here one to the right. low straddles their start.
func fromLeft(low, here archsimd.Float32x8) archsimd.Float32x8 {
	return here.AsUint8x32().ConcatShiftBytesRightGrouped(12, low.AsUint8x32()).AsFloat32x8()
}

// fromRight moves the cells of here one to the left. high straddles their end.
func fromRight(here, high archsimd.Float32x8) archsimd.Float32x8 {
	return high.AsUint8x32().ConcatShiftBytesRightGrouped(4, here.AsUint8x32()).AsFloat32x8()
}

// left8 reads the eight cells one to the left of p.
func left8(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[vector.Lanes]float32)(unsafe.Add(p, -4)))
}

// right8 reads the eight cells one to the right of p.
func right8(p unsafe.Pointer) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[vector.Lanes]float32)(unsafe.Add(p, 4)))
}
