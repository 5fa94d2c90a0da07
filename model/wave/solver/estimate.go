package solver

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/march"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
)

// Cost estimates what one run takes.
func (e *Engine) Cost() Cost {
	c := sizeUp(e.scene.Size, e.grid, e.settings)
	c.Seconds *= e.settings.Longest / e.system.Step / float64(c.Steps)
	c.Steps = int(e.settings.Longest / e.system.Step)
	return c
}

// Cost is an estimate of what one run takes, from the room's size. Rooms that absorb finish sooner.
type Cost struct {
	Cells   int     // including solid ones
	Steps   int     // at most
	Bytes   int64   // memory, at most
	Seconds float64 // on one core, roughly
}

// perCell returns the time that a cell takes in one step on one core, s, with the kernel in use. It
// is a rough figure for a room with walls and some wool; MEASURED.md of package wave has the
// measurements.
func perCell() float64 {
	if vector.Available() {
		return 1.1e-9
	}
	return 5e-9
}

// sizeUp estimates the cost of a run from sizes alone.
func sizeUp(size r3.Vec, grid model.Grid, s Settings) Cost {
	cells := 1.0
	for _, length := range scene.Components(size) {
		cells *= math.Max(1, math.Round(length/s.Cell))
	}
	kept := cells
	if len(s.Zones) > 0 {
		kept = 0
		for _, z := range s.Zones {
			zone := 1.0
			for _, length := range scene.Components(r3.Sub(z.Max, z.Min)) {
				zone *= length/s.Cell + 5
			}
			kept += zone
		}
		kept = min(kept, cells)
	}
	highest := grid[len(grid)-1]
	// 0.6 h/c is a usual step; the frame rate is at most twice the lowest one.
	steps := s.Longest * 343 / (0.6 * s.Cell)
	frames := s.Longest * march.RecordRate(highest) * 2
	const state = 300 // bytes per cell while the room is cut; a run takes a fifth of that
	return Cost{
		Cells:   int(cells),
		Steps:   int(steps),
		Bytes:   int64(cells*state + kept*(4*frames+8*float64(len(grid)))),
		Seconds: cells * steps * perCell(),
	}
}
