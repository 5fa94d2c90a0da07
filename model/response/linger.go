package response

import "math"

// Audible returns the time in s to fall by 60 dB, at a frequency in Hz, beyond which
// the ear tells a longer decay from a shorter one: 0.85 s at 32 Hz and below, 0.2 s from
// 100 Hz. The two ends are published thresholds, quoted from an abstract; the
// straight line over lg f between them is ours.
func Audible(f float64) float64 {
	share := math.Log(f/32) / math.Log(100.0/32)
	return 0.85 + (0.2-0.85)*max(0, min(1, share))
}

// Lingering returns the audible excess decay, s: the mean excess over [Audible] of the third octaves from one
// frequency in Hz to another. A decay that is not known or too slow to be read counts as three seconds. It is
// 0 if no band lies there.
func Lingering(decays []Decay, from, to float64) float64 {
	var sum, n float64
	for _, d := range decays {
		if d.Band < from || d.Band > to {
			continue
		}
		sum += max(0, 3*d.counted()-Audible(d.Band))
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / n
}
