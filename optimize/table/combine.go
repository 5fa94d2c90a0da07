package table

// block is how many numbers combine sums at a time, so that the sums stay in the nearest
// cache.
const block = 128

// combine fills dst with the weighted sum of rows: that of a node begins at node*stride and
// is as long as dst.
func combine(dst []float32, shares []nodeWeight, rows []float32, stride int) {
	for from := 0; from < len(dst); from += block {
		part := dst[from:min(from+block, len(dst))]
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

// portableAdd4 is [add4] in plain Go.
func portableAdd4(dst []float32, s *[4]nodeWeight, a, b, c, d []float32) {
	n := len(dst)
	a, b, c, d = a[:n], b[:n], c[:n], d[:n]
	wa, wb, wc, wd := float32(s[0].weight), float32(s[1].weight), float32(s[2].weight), float32(s[3].weight)
	for j := range dst {
		dst[j] += wa*a[j] + wb*b[j] + wc*c[j] + wd*d[j]
	}
}
