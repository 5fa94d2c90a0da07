package wave

import (
	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/march"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/vector"
)

// DefaultCell is the cell size in m that suits up to 315 Hz.
const DefaultCell = solver.DefaultCell

// Kernel names the kernel that computes the cells in this build and on this machine.
func Kernel() string { return vector.Kernel() }

// Convergence says when the levels of a run have converged.
type Convergence = march.Convergence

// Settings of a room. The zero value suits 20 to 315 Hz.
type Settings struct {
	Cell float64 // wanted cell size, m; 0 means DefaultCell, or less for high frequencies

	// Zones hold the places where sources may stand. None means the whole room, which suits
	// maps and takes much memory.
	Zones []model.Block

	Fall    model.Level // stop a run when its energy has fallen this far; 0 means 70 dB
	Longest float64     // stop a run after this time in any case, s; 0 means 6 s

	// SettlingTime is the time in s from which on a fall of 30 dB will do, where levels are only read
	// smoothed (SettlingTime in package response); 0 means never.
	SettlingTime float64

	// Convergence says when levels have converged, so that a run may end earlier; the zero value never does. The
	// runs that answer over a MarkGrid always look at decays too.
	Convergence Convergence

	// MarkGrid holds frequencies over which [Room.Kept] answers, within the room's; none means none.
	MarkGrid model.Grid

	// Fits, if not nil, remembers the branches of surfaces for rooms that share walls.
	Fits *fit.Memory

	Memory      int64 // limit for one run, bytes; 0 means 2 GiB
	CachedSeats int   // number of latest seats whose runs are kept, some 4 to 30 MB each, 96 MB in all; 0 means 8

	// Progress receives now and then how far a run has come, from the goroutine that asked for
	// the field.
	Progress model.Progress

	blocks *march.Blocks
}

// engine returns the settings of the scene's engine.
func (o Settings) engine() solver.Settings {
	return solver.Settings{
		Cell: o.Cell, Zones: o.Zones, Fall: o.Fall, Longest: o.Longest, SettlingTime: o.SettlingTime, Convergence: o.Convergence,
		Memory: o.Memory, Blocks: o.blocks, Progress: o.Progress,
	}
}

// Variation is a way in which a room may differ from the typical one, which is the zero value.
type Variation struct {
	// Walls says how much less (down to -1, the low estimate) or more (up to 1, the high one)
	// than typical each wall absorbs, and everything that faces the same way, by [model.Face].
	// In between the admittance is interpolated.
	Walls [6]float64

	Resistivity float64 // of all porous layers, relative to the stated value; 0 means 1
}
