package image

import (
	"fmt"

	"evenbass/model"
)

// Warnings implements [model.Engine].
func (e *Engine) Warnings() []model.Warning {
	var list []model.Warning
	if e.reach.Remaining > e.wanted+0.1 {
		list = append(list, model.Warning(fmt.Sprintf(
			"image sum ends at %.0f m, where the energy still to come is %.0f dB of the whole instead of %.0f dB; sharp resonances come out too low",
			e.reach.Length, float64(e.reach.Remaining), float64(e.wanted))))
	}
	return list
}
