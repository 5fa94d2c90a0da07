package text

import (
	"evenbass/model/response"
	"evenbass/report/unit"
)

// PointText writes a highest or lowest point in one line: "-12.3 dB at 64.2 Hz".
func PointText(e response.Extreme) string {
	return unit.Decibels(e.Level) + " at " + unit.Frequency(e.Frequency)
}
