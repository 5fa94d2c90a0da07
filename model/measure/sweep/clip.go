package sweep

import "math"

// clipping returns the share of the samples in the loudest tenth of a second that lie within 0.1 % of
// the greatest magnitude. Sound that peaks freely spends up to 3 % of its time there, sound that
// is cut off far more, at whatever level that happens.
func clipping(x []float64, rate float64) (share, peak float64) {
	at := 0
	for i, v := range x {
		if math.Abs(v) > math.Abs(x[at]) {
			at = i
		}
	}
	peak = math.Abs(x[at])
	if peak == 0 {
		return 0, 0
	}
	half := int(0.05 * rate)
	from, to := max(0, at-half), min(len(x), at+half)
	count := 0
	for _, v := range x[from:to] {
		if math.Abs(v) >= 0.999*peak {
			count++
		}
	}
	return float64(count) / float64(to-from), peak
}

// cutOff returns the share of the samples of one part that lie within 0.1 % of a limit.
func cutOff(x []float64, limit float64) float64 {
	count := 0
	for _, v := range x {
		if math.Abs(v) >= 0.999*limit {
			count++
		}
	}
	return float64(count) / float64(max(1, len(x)))
}

// freely is the share of its time that sound which is not cut off spends within 0.1 % of its peak:
// 2/π arccos(0.999) = 2.8 % for a tone, and room for rounding.
const freely = 0.06
