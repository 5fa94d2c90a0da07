package solver

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/march"
	"evenbass/model/wave/vector"
)

// Cost estimates what one run takes.
func (e *Engine) Cost() Cost {
	c := sizeUp(e.scene.Size, e.scene.Air, e.grid, e.settings)
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

// Need is an estimate of the memory that an engine takes, from the room's size, in bytes. None is less than what
// is taken.
type Need struct {
	Cells  int     // including solid ones; a number
	Cut    float64 // while the room is cut into cells
	State  float64 // of one run
	Frames float64 // of one run
	Field  float64 // where each cell is kept
	Folded float64 // of a field where a sum of layers is kept for each height; Field if zones have many
}

// Bytes of memory per cell while a room is cut, and in a run with wool. Both are measured, see MEASURED.md of
// package optimize.
const (
	cutBytes   = 300
	stateBytes = 60
)

// NeedOf returns what an engine takes whose runs last so many seconds.
func NeedOf(size r3.Vec, air model.Air, grid model.Grid, s Settings, seconds float64) Need {
	s = s.WithDefaults(grid, air)
	cells := lattice.NewCells(size, s.Cell)
	n := Need{Cells: cells.N[0] * cells.N[1] * cells.N[2]}
	kept := n.Cells
	if len(s.Zones) > 0 {
		kept = len(cells.Within(s.Zones))
	}
	// Each frame is a whole number of steps after the last, so the rate is above the lowest by one step at most.
	rate := march.RecordRate(grid[len(grid)-1])
	rate *= 1 + 1/max(1, math.Floor(1/(usualStep(s.Cell)*rate)))
	n.Cut, n.State = cutBytes*float64(n.Cells), stateBytes*float64(n.Cells)
	n.Frames = 4 * float64(kept) * rate * seconds
	row := 8 * float64(len(grid))
	n.Field = row * float64(kept)
	n.Folded = n.Field
	if sums := columns(&cells, s.Zones); 2*sums <= kept { // as in planesOf
		n.Folded = row * float64(sums)
	}
	return n
}

// columns returns how many columns the planes of zones have at most, one plane for each height; the size of all
// cells if a zone has more than one height.
func columns(cells *lattice.Cells, zones []model.Block) int {
	sum := 0
	var seen []model.Block
	for _, z := range zones {
		if z.Min.Z != z.Max.Z {
			return cells.Size
		}
		if len(alike(seen, z.Min.Z)) == 0 {
			sum += len(cells.Within(alike(zones, z.Min.Z))) / min(cells.N[2], lattice.Widest)
			seen = append(seen, z)
		}
	}
	if len(zones) == 0 {
		return cells.Size
	}
	return sum
}

// usualStep returns the time step in s that is usual on cells of a size in m.
func usualStep(cell float64) float64 { return 0.6 * cell / 343 }

// sizeUp estimates the cost of a run from sizes alone.
func sizeUp(size r3.Vec, air model.Air, grid model.Grid, s Settings) Cost {
	n := NeedOf(size, air, grid, s, s.Longest)
	steps := s.Longest / usualStep(s.Cell)
	return Cost{
		Cells:   n.Cells,
		Steps:   int(steps),
		Bytes:   int64(n.Cut + n.Frames + n.Field),
		Seconds: float64(n.Cells) * steps * perCell(),
	}
}
