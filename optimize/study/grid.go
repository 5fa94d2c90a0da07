package study

import (
	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/response"
)

// Grid returns the frequencies that a room is solved for: close enough together for its
// slowest decay with typical walls, see [response.GridFor]. A room that is no box counts as
// the box around it, with treatments mixed into its walls by area.
func Grid(room *model.Room) model.Grid {
	box, _, err := surface.Box(room, material.Typical)
	if err != nil {
		return model.DefaultGrid() // the engine says what is wrong with the room
	}
	return gridOf(&box)
}

// gridOf is Grid for a box.
func gridOf(box *model.Box) model.Grid {
	return response.GridFor(func(f float64) float64 { return mode.SlowestDecay(box, f) })
}
