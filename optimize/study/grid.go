package study

import (
	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/response"
)

// Grid returns the frequencies that a project is solved for: close enough together for the
// slowest decay of its room with typical walls, see [response.GridFor]. A room that is no box counts as
// the box around it, with treatments mixed into its walls by area.
func Grid(p *model.Project) model.Grid {
	box, _, err := surface.Box(&p.Room, material.Typical)
	if err != nil {
		return model.DefaultGrid() // the engine says what is wrong with the room
	}
	return gridOf(&box, p.Goal)
}

// gridOf is Grid for a box.
func gridOf(box *model.Box, goal model.Goal) model.Grid {
	return response.GridFor(goal, func(f float64) float64 { return mode.SlowestDecay(box, f) })
}
