package whatif

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
)

// ModeDecay is how fast one mode of a plain box decays when the sound stops.
type ModeDecay struct {
	N         [3]int  // half waves along x, y, z
	Frequency float64 // Hz, between rigid walls, which identifies the mode whatever the walls
	Fall20    float64 // time to fall by 20 dB, s; 0 if the walls absorb nothing, or nearly all
}

const (
	mostModes   = 10    // as many as the lowest two or three third octaves hold in a small room
	highestMode = 200.0 // Hz
)

// modeDecays returns the lowest modes of a box with typical walls, ascending in frequency
// between rigid walls, so that states can be compared mode by mode.
func modeDecays(r *model.Room) ([]ModeDecay, error) {
	box, _, err := surface.Box(r, material.Typical)
	if err != nil {
		return nil, err
	}
	var list []ModeDecay
	all := mode.Indices(box.Size, box.Air.Speed, highestMode)
	for _, n := range all[:min(mostModes, len(all))] {
		m, err := mode.FreeDecay(box, n)
		d := ModeDecay{N: n, Frequency: m.Rigid}
		if err == nil && m.Rate > 0 {
			d.Fall20 = math.Ln10 / m.Rate // e^{-δt} is a tenth
		}
		list = append(list, d)
	}
	return list, nil
}
