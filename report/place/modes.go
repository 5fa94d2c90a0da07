package place

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
)

// modesUpTo is the frequency in Hz up to which modes are listed.
const modesUpTo = 300

// Modes returns the modes of a box with how loud each is at a seat. Those of any other room, for
// which the box is nil, are not known.
func Modes(box *model.Box, seat r3.Vec) []Mode {
	if box == nil {
		return nil
	}
	var rows []Mode
	modes, _ := mode.List(*box, modesUpTo)
	for _, m := range modes {
		row := Mode{
			Index: m.N, Kind: m.Kind().String(), Frequency: m.Frequency,
			Seat: math.Abs(m.Shape(box.Size, seat)),
		}
		if m.Rate > 0 {
			row.Decay = m.DecayTime()
		}
		rows = append(rows, row)
	}
	return rows
}
