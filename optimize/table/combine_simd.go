//go:build goexperiment.simd && amd64

package table

import (
	"simd/archsimd"
	"unsafe"
)

// hasVectors reports whether this build and this machine add eight numbers at once.
func hasVectors() bool { return archsimd.X86.AVX2() }

// addRows fills dst, which holds at least a [vectorBlock], with the weighted sum of the rows that
// begin at from and are as long. The weights end in [lanes] more numbers that do not count. Four
// rows at a time, then one by one: the order of [combinePortable]. The last block may overlap the
// one before it.
func addRows(dst, weights []float32, from []*float32) {
	fours := len(from) / 4 * 4
	for at := 0; at < len(dst); at += vectorBlock {
		first := min(at, len(dst)-vectorBlock)
		to, skip := unsafe.Pointer(&dst[first]), 4*first
		var a, b, c, d archsimd.Float32x8
		for i := 0; i < fours; i += 4 {
			p := (*[4]*float32)(from[i:])
			p0, p1, p2, p3 := after(p[0], skip), after(p[1], skip), after(p[2], skip), after(p[3], skip)
			w0, w1, w2, w3 := everywhere(&weights[i]), everywhere(&weights[i+1]), everywhere(&weights[i+2]), everywhere(&weights[i+3])
			a = a.Add(w0.Mul(eight(p0, 0)).Add(w1.Mul(eight(p1, 0))).Add(w2.Mul(eight(p2, 0))).Add(w3.Mul(eight(p3, 0))))
			b = b.Add(w0.Mul(eight(p0, 32)).Add(w1.Mul(eight(p1, 32))).Add(w2.Mul(eight(p2, 32))).Add(w3.Mul(eight(p3, 32))))
			c = c.Add(w0.Mul(eight(p0, 64)).Add(w1.Mul(eight(p1, 64))).Add(w2.Mul(eight(p2, 64))).Add(w3.Mul(eight(p3, 64))))
			d = d.Add(w0.Mul(eight(p0, 96)).Add(w1.Mul(eight(p1, 96))).Add(w2.Mul(eight(p2, 96))).Add(w3.Mul(eight(p3, 96))))
		}
		for i := fours; i < len(from); i++ {
			p, w := after(from[i], skip), everywhere(&weights[i])
			a = a.Add(w.Mul(eight(p, 0)))
			b = b.Add(w.Mul(eight(p, 32)))
			c = c.Add(w.Mul(eight(p, 64)))
			d = d.Add(w.Mul(eight(p, 96)))
		}
		a.Store((*[lanes]float32)(to))
		b.Store((*[lanes]float32)(unsafe.Add(to, 32)))
		c.Store((*[lanes]float32)(unsafe.Add(to, 64)))
		d.Store((*[lanes]float32)(unsafe.Add(to, 96)))
	}
	archsimd.ClearAVXUpperBits()
}

// after returns the place so many bytes after a number.
func after(p *float32, bytes int) unsafe.Pointer { return unsafe.Add(unsafe.Pointer(p), bytes) }

// eight loads eight numbers that begin so many bytes after p.
func eight(p unsafe.Pointer, bytes int) archsimd.Float32x8 {
	return archsimd.LoadFloat32x8((*[lanes]float32)(unsafe.Add(p, bytes)))
}

// everywhere returns a vector of one number, after which three more must be readable. It is read as
// part of a vector: an instruction for single numbers between those for vectors costs many times as much.
func everywhere(w *float32) archsimd.Float32x8 {
	return archsimd.LoadFloat32x4((*[4]float32)(unsafe.Pointer(w))).Broadcast1To8()
}
