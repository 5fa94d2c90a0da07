package mode

import (
	"math"

	"evenbass/model"
)

// SlowestDecay returns an estimate of the time in s that the slowest mode of a box
// about a frequency in Hz takes to fall by 60 dB: an axial mode between the two walls
// that absorb least. To first order in the admittances β of the walls, an axial mode
// along an axis of length L loses at them
//
//	δ = c/2 (Σ (β0 + β1)/L over the axes, that of its own axis counted twice)
//
// (Kuttruff, Room Acoustics, 6th ed. 2016, section 3.3), and ω times half the loss
// factor of the air. Openings and treatments count as far as the box's walls hold
// them. Zero losses give +Inf.
func SlowestDecay(box *model.Box, f float64) float64 {
	size := [3]float64{box.Size.X, box.Size.Y, box.Size.Z}
	var sum float64
	least := math.Inf(1)
	for axis, length := range size {
		walls := real(box.Admittance(model.Face(2*axis), f)+box.Admittance(model.Face(2*axis+1), f)) / length
		sum += walls
		least = min(least, walls)
	}
	delta := box.Air.Speed/2*(sum+least) + 2*math.Pi*f*box.Air.Loss
	return math.Log(1000) / delta
}
