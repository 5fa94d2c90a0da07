package engines

import (
	"fmt"
	"math"
	"runtime"

	"evenbass/model"
	"evenbass/model/wave"
)

// UsualMemory is the default limit of a study's memory, bytes.
const UsualMemory = 2e9

// Upper bounds of the wave solver's memory, bytes: per cell while a room is cut into cells, per cell in a run
// with wool, and for tables and kept fields, which have limits of their own. The first is measured, see
// MEASURED.md.
const (
	cutBytes   = 300
	runBytes   = 60
	otherBytes = 250e6
)

// MemoryError says that a project would take too much memory.
type MemoryError struct {
	Need, Limit float64 // bytes
	Cells       int     // of one run
}

// Error implements error.
func (e *MemoryError) Error() string {
	return fmt.Sprintf("the wave solver would take about %.1f GB of memory for the %d cells of this room, and %.1f GB are allowed", e.Need/1e9, e.Cells, e.Limit/1e9)
}

// CheckMemory fails with a [*MemoryError] if an engine would take more memory for a project than the
// limit in bytes. It estimates the peak from the size of the room alone, before
// anything is set up: the usual cells and the coarse ones are cut side by side, and later each core has a run. The fast
// engines take little.
func CheckMemory(engine model.EngineKind, p *model.Project, limit float64) error {
	chosen, err := Choose(engine, &p.Room)
	if err != nil || chosen.Kind != model.WaveEngine {
		return nil // setting up the study reports the fault
	}
	cells := func(cell float64) float64 {
		size := p.Room.Size
		return math.Ceil(size.X/cell) * math.Ceil(size.Y/cell) * math.Ceil(size.Z/cell)
	}
	usual, coarse := cells(wave.DefaultCell), cells(CoarseCell)
	need := max(cutBytes*(usual+coarse), runBytes*usual*float64(runtime.GOMAXPROCS(0))) + otherBytes
	if need > limit {
		return &MemoryError{Need: need, Limit: limit, Cells: int(usual)}
	}
	return nil
}
