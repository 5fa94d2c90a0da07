package table

// combine fills dst with the weighted sum of rows: that of a node begins at node*stride and
// is as long as dst. It rounds products and sums one by one in the same order with vectors and
// without, so that a search takes the same path on any machine.
func combine(dst []float32, shares []nodeWeight, rows []float32, stride int) {
	if len(dst) < vectorBlock || !hasVectors() {
		combinePortable(dst, shares, rows, stride)
		return
	}
	var roomForWeights [rowsOnStack + lanes]float32
	var roomForRows [rowsOnStack]*float32
	weights, from := roomForWeights[:], roomForRows[:]
	if len(shares) > rowsOnStack {
		weights, from = make([]float32, len(shares)+lanes), make([]*float32, len(shares))
	}
	for i, s := range shares {
		weights[i], from[i] = float32(s.weight), &rows[s.node*stride : s.node*stride+len(dst)][0]
	}
	addRows(dst, weights[:len(shares)+lanes], from[:len(shares)])
}

// rowsOnStack is how many rows are combined without asking for memory.
const rowsOnStack = 256

// A vector holds so many numbers, and so many are summed at a time in registers: each sum is
// written once, and the rows are read in whole lines of the cache.
const (
	lanes       = 8
	vectorBlock = 4 * lanes
)

// portableBlock is how many numbers are summed at a time in plain Go, so that the sums stay in the
// nearest cache.
const portableBlock = 128

// combinePortable is [combine] in plain Go.
func combinePortable(dst []float32, shares []nodeWeight, rows []float32, stride int) {
	for from := 0; from < len(dst); from += portableBlock {
		part := dst[from:min(from+portableBlock, len(dst))]
		clear(part)
		i := 0
		for ; i+4 <= len(shares); i += 4 {
			s := (*[4]nodeWeight)(shares[i:])
			add4(part, s, rows[s[0].node*stride+from:], rows[s[1].node*stride+from:], rows[s[2].node*stride+from:], rows[s[3].node*stride+from:])
		}
		for _, s := range shares[i:] {
			row, v := rows[s.node*stride+from:], float32(s.weight)
			row = row[:len(part)]
			for j := range part {
				part[j] += v * row[j]
			}
		}
	}
}

// add4 adds four weighted rows, at least as long as dst, to dst.
func add4(dst []float32, s *[4]nodeWeight, a, b, c, d []float32) {
	n := len(dst)
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	wa, wb, wc, wd := float32(s[0].weight), float32(s[1].weight), float32(s[2].weight), float32(s[3].weight)
	for j := range dst {
		dst[j] += wa*a[j] + wb*b[j] + wc*c[j] + wd*d[j]
	}
}
