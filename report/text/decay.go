package text

import (
	"evenbass/model/response"
	"evenbass/report/unit"
)

// DecayKey explains what [DecayCell] writes.
const DecayKey = "Brackets: too fast for the filter to resolve. \"slow\": 20 dB take 0.9 s or longer, the limit of this analysis"

// DecayCell writes a time to fall in s as whole milliseconds.
func DecayCell(d response.Decay, fall float64) string {
	switch {
	case d.Slow():
		return "slow"
	case fall == 0:
		return unit.Unknown
	case !d.Resolved():
		return "(" + unit.Decimal(1000*fall, 0) + ")"
	}
	return unit.Decimal(1000*fall, 0)
}
