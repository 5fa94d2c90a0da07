package heatmap

import (
	"fmt"
	"math"

	"evenbass/report/unit"
)

// describe says in words what a panel shows, for those who cannot see it: the frequencies whose
// tones stay longest.
func describe(p Panel) string {
	fall := p.Map.Below(p.Reference - gone)
	text := "Time until a tone is 20 dB below the mean level: "
	for i, f := range []float64{40, 63, 100, 160, 250} {
		k := p.Map.Grid.Nearest(f)
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s at %g Hz", span(fall[k]), f)
	}
	worst := 0
	for i, t := range fall {
		if t > fall[worst] {
			worst = i
		}
	}
	return text + fmt.Sprintf(". The longest is %s at %s Hz.", span(fall[worst]), unit.Decimal(p.Map.Grid[worst], 0))
}

// span writes a time in s.
func span(t float64) string {
	if math.IsInf(t, 1) {
		return "longer than shown"
	}
	return unit.Decimal(1000*t, 0) + " ms"
}
