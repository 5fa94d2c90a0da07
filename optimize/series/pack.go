package series

import (
	"bytes"
	"compress/flate"
	"fmt"
)

// Packed returns the numbers as a stream of RFC 1951 (deflate). Inside it each number n is
// folded to the unsigned 2n or -2n-1; the lower bytes of all come first, then the upper bytes.
func (t *Table) Packed() ([]byte, error) {
	n := len(t.Numbers)
	raw := make([]byte, 2*n)
	for i, v := range t.Numbers {
		u := uint16(v<<1) ^ uint16(v>>15)
		raw[i], raw[n+i] = byte(u), byte(u>>8)
	}
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		return nil, fmt.Errorf("series: %w", err)
	}
	if _, err := w.Write(raw); err != nil {
		return nil, fmt.Errorf("series: %w", err)
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("series: %w", err)
	}
	return b.Bytes(), nil
}
