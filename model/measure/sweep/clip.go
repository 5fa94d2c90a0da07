package sweep

import "math"

// clipping returns the greatest magnitude, and whether sound is cut off there: whether far more samples of the loudest
// tenth of a second lie within 0.1 % of it than of sound that peaks freely, at whatever level that happens.
func clipping(x []float64, rate float64) (clipped bool, peak float64) {
	at := 0
	for i, v := range x {
		if math.Abs(v) > math.Abs(x[at]) {
			at = i
		}
	}
	peak = math.Abs(x[at])
	if peak == 0 {
		return false, 0
	}
	half := int(0.05 * rate)
	from, to := max(0, at-half), min(len(x), at+half)
	var next float64 // the greatest magnitude below the peak: of a faint recording, one step of its samples below
	for _, v := range x[from:to] {
		if v = math.Abs(v); v < peak {
			next = max(next, v)
		}
	}
	return cutOff(x[from:to], peak) > 2*atPeak(min(0.999*peak, next)/peak), peak
}

// atPeak returns the share of its time that a tone spends above a share of its peak.
func atPeak(share float64) float64 { return 2 / math.Pi * math.Acos(share) }

// cutOff returns the share of samples that lie within 0.1 % of a limit.
func cutOff(x []float64, limit float64) float64 {
	count := 0
	for _, v := range x {
		if math.Abs(v) >= 0.999*limit {
			count++
		}
	}
	return float64(count) / float64(max(1, len(x)))
}
