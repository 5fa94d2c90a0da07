package wave

import (
	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/march"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/vector"
)

// DefaultCell is the cell size in m that serves up to 315 Hz.
const DefaultCell = solver.DefaultCell

// Kernel names what marches the cells in this build and on this machine.
func Kernel() string { return vector.Kernel() }

// Settings of a room. The zero value is good for 20 to 315 Hz.
type Settings struct {
	Cell float64 // size of a cell wanted, m; 0 means DefaultCell, or less for a high grid

	// Zones hold the places where sources will be asked for. None means the whole room,
	// which is good for maps and takes much memory.
	Zones []model.Block

	Fall    model.Level // end a run when its energy has fallen this far; 0 means 70 dB
	Longest float64     // end a run after this time in any case, s; 0 means 6 s

	// Fits, if not nil, remembers how surfaces are followed by branches, for rooms that
	// share walls.
	Fits *fit.Memory

	Memory int64 // most bytes that a run may take; 0 means 1 GiB
	Kept   int   // seats whose runs are kept, the latest; 0 means 8, some 4 to 6 MB each

	// Progress receives now and then how far a run has come, from the goroutine that asked for
	// the field.
	Progress model.Progress

	blocks *march.Blocks
}

// engine returns the settings of the engine of the scene.
func (o Settings) engine() solver.Settings {
	return solver.Settings{
		Cell: o.Cell, Zones: o.Zones, Fall: o.Fall, Longest: o.Longest,
		Memory: o.Memory, Blocks: o.blocks, Progress: o.Progress,
	}
}

// Variation is a way in which a room may differ from what is typical. The zero value is what
// is typical.
type Variation struct {
	// Walls is by how much each wall, and all that faces like it, absorbs less (down to
	// -1, as little as is likely) or more (up to 1) than is typical, by [model.Face].
	// Between the estimates the admittance goes in proportion.
	Walls [6]float64

	Resistivity float64 // of all porous layers, as a ratio to what they are said to have; 0 is 1
}
