package report

import "evenbass/model/response"

// decayKey explains what [decayCell] writes.
const decayKey = "Brackets: too fast for the filter to resolve. \"slow\": 20 dB take 0.9 s or longer, the limit of this analysis"

// decayCell writes a time to fall in s as whole milliseconds.
func decayCell(d response.Decay, fall float64) string {
	switch {
	case d.Slow():
		return "slow"
	case fall == 0:
		return unknown
	case !d.Resolved():
		return "(" + decimal(1000*fall, 0) + ")"
	}
	return decimal(1000*fall, 0)
}
