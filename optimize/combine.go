package optimize

// block is how many numbers combine sums at a time, so that the sums stay in the
// nearest cache.
const block = 64

// combine fills dst with Σ w[i]·rows[i*stride : i*stride+len(dst)].
func combine(dst []float32, w []float64, rows []float32, stride int) {
	for from := 0; from < len(dst); from += block {
		part := dst[from:min(from+block, len(dst))]
		clear(part)
		i := 0
		for ; i+4 <= len(w); i += 4 {
			at := i*stride + from
			add4(part, (*[4]float64)(w[i:]), rows[at:], rows[at+stride:], rows[at+2*stride:], rows[at+3*stride:])
		}
		for ; i < len(w); i++ {
			row, v := rows[i*stride+from:], float32(w[i])
			row = row[:len(part)]
			for j := range part {
				part[j] += v * row[j]
			}
		}
	}
}

// add4 adds four weighted rows to dst.
func add4(dst []float32, w *[4]float64, a, b, c, d []float32) {
	n := len(dst)
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	wa, wb, wc, wd := float32(w[0]), float32(w[1]), float32(w[2]), float32(w[3])
	for j := range dst {
		dst[j] += wa*a[j] + wb*b[j] + wc*c[j] + wd*d[j]
	}
}
