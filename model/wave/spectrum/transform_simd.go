//go:build goexperiment.simd && amd64

package spectrum

import (
	"simd/archsimd"
	"unsafe"

	"evenbass/model/wave/vector"
)

// scale is portableScale with eight cells to a vector.
func scale(p *point, cells []float32, w float32) {
	if !vector.Available() {
		portableScale(p, cells, w)
		return
	}
	v := archsimd.BroadcastFloat32x8(w)
	re, im := v.Mul(archsimd.LoadFloat32x8Slice(cells)), v.Mul(archsimd.LoadFloat32x8Slice(cells[8:]))
	put(p, re, im)
	archsimd.ClearAVXUpperBits()
}

// get returns the real and the imaginary parts of a point.
func get(p *point) (re, im archsimd.Float32x8) {
	return archsimd.LoadFloat32x8((*[8]float32)(p[:8])), archsimd.LoadFloat32x8((*[8]float32)(p[8:]))
}

// put is the reverse of get.
func put(p *point, re, im archsimd.Float32x8) {
	re.Store((*[8]float32)(p[:8]))
	im.Store((*[8]float32)(p[8:]))
}

// sumPoints is portableSumPoints with eight cells to a vector.
func sumPoints(sum *point, points []point, places *[taps]int32, weights *[taps]float32) {
	if !vector.Available() {
		portableSumPoints(sum, points, places, weights)
		return
	}
	var re, im archsimd.Float32x8
	for j, at := range places {
		w := archsimd.BroadcastFloat32x8(weights[j])
		r, i := get(&points[at])
		re, im = w.MulAdd(r, re), w.MulAdd(i, im)
	}
	put(sum, re, im)
	archsimd.ClearAVXUpperBits()
}

// restSums is portableRestSums with eight cells to a vector, two values at a time.
func restSums(re, im *point, last []point, weights []complex64) {
	if !vector.Available() {
		portableRestSums(re, im, last, weights)
		return
	}
	var ar, ai, br, bi, cr, ci, dr, di archsimd.Float32x8
	last = last[:len(weights)]
	for m := 0; m+1 < len(weights); m += 2 {
		a, b := get(&last[m])
		wr, wi := archsimd.BroadcastFloat32x8(real(weights[m])), archsimd.BroadcastFloat32x8(imag(weights[m]))
		ar, ai, br, bi = wr.MulAdd(a, ar), wi.MulAdd(a, ai), wr.MulAdd(b, br), wi.MulAdd(b, bi)
		c, d := get(&last[m+1])
		wr, wi = archsimd.BroadcastFloat32x8(real(weights[m+1])), archsimd.BroadcastFloat32x8(imag(weights[m+1]))
		cr, ci, dr, di = wr.MulAdd(c, cr), wi.MulAdd(c, ci), wr.MulAdd(d, dr), wi.MulAdd(d, di)
	}
	put(re, ar.Add(cr), br.Add(dr))
	put(im, ai.Add(ci), bi.Add(di))
	archsimd.ClearAVXUpperBits()
}

// quarters is portableQuarters with eight cells to a vector.
func quarters(block []point, turns []turn) {
	if !vector.Available() {
		portableQuarters(block, turns)
		return
	}
	q := len(turns)
	first, second, third, fourth := block[:q], block[q:2*q], block[2*q:3*q], block[3*q:4*q]
	for j := range turns {
		t := &turns[j]
		ar, ai := get(&first[j])
		br, bi := get(&second[j])
		cr, ci := get(&third[j])
		dr, di := get(&fourth[j])
		er, ei, or, oi := ar.Add(cr), ai.Add(ci), br.Add(dr), bi.Add(di)
		xr, xi, yr, yi := ar.Sub(cr), ai.Sub(ci), bi.Sub(di), dr.Sub(br) // y is -j(b - d)
		put(&first[j], er.Add(or), ei.Add(oi))
		putTurned(&second[j], xr.Add(yr), xi.Add(yi), t[0], t[1])
		putTurned(&third[j], er.Sub(or), ei.Sub(oi), t[2], t[3])
		putTurned(&fourth[j], xr.Sub(yr), xi.Sub(yi), t[4], t[5])
	}
	archsimd.ClearAVXUpperBits()
}

// putTurned stores values times cos - j sin.
func putTurned(p *point, re, im archsimd.Float32x8, cos, sin float32) {
	c, s := archsimd.BroadcastFloat32x8(cos), archsimd.BroadcastFloat32x8(sin)
	put(p, c.MulAdd(re, s.Mul(im)), c.Mul(im).Sub(s.Mul(re)))
}

// AddTimes adds w x to y, which has the same length, four values at a time.
func AddTimes(y []complex64, w float32, x []complex64) {
	whole := 0
	if vector.Available() {
		whole = len(x) / 4 * 4
		weight := archsimd.BroadcastFloat32x8(w)
		for i := 0; i < whole; i += 4 {
			to := (*[vector.Lanes]float32)(unsafe.Pointer(&y[i]))
			weight.MulAdd(vector.Load(unsafe.Pointer(&x[i])), archsimd.LoadFloat32x8(to)).Store(to)
		}
		archsimd.ClearAVXUpperBits()
	}
	portableAddTimes(y[whole:], w, x[whole:])
}
