package engines

import (
	"errors"
	"runtime"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave"
	"evenbass/model/wave/solver"
	"evenbass/optimize/testroom"
)

// The largest room that is accepted, 25 × 25 × 8 m, is beyond the usual limit with wool and not as a plain box.
func TestCheckMemory(t *testing.T) {
	p := testroom.Read(t, "treated-room")
	if err := CheckMemory(Auto, p, UsualMemory); err != nil {
		t.Errorf("a room of 43 m³: %v", err)
	}
	p.Room.Size = r3.Vec{X: 25, Y: 25, Z: 8}
	var large *MemoryError
	if err := CheckMemory(Auto, p, UsualMemory); !errors.As(err, &large) || large.Cells != 250*250*80 {
		t.Errorf("25 × 25 × 8 m: %v", err)
	}
	if err := CheckMemory(Auto, p, 1.01*large.Need); err != nil {
		t.Errorf("with more memory than it needs: %v", err)
	}
	p.Room.Treatments = nil
	p.Room.Openings = nil
	if err := CheckMemory(Auto, p, 1); err != nil {
		t.Errorf("a plain box: %v", err)
	}
	if err := CheckMemory(model.WaveEngine, p, 1); err == nil {
		t.Error("the wave solver takes a byte for a large box")
	}
}

// Cutting a room takes about what is counted for it, nearly all of it at once: by the difference of two
// sizes, since walls are fitted for both.
func TestMemoryOfCutting(t *testing.T) {
	p := testroom.Read(t, "treated-room")
	fits := new(fit.Memory)
	allocated := func(size r3.Vec) (bytes, cells float64) {
		p.Room.Size = size
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		room, err := wave.NewRoom(&p.Room, material.Typical, model.DefaultGrid(), wave.Settings{Zones: SearchZones(p), Fits: fits})
		if err != nil {
			t.Fatal(err)
		}
		runtime.ReadMemStats(&after)
		return float64(after.TotalAlloc - before.TotalAlloc), float64(room.Cost().Cells)
	}
	allocated(r3.Vec{X: 4, Y: 3, Z: 2.5}) // fits the walls
	few, small := allocated(r3.Vec{X: 4.8, Y: 3.6, Z: 2.5})
	many, large := allocated(r3.Vec{X: 8, Y: 6, Z: 2.5})
	perCell := (many - few) / (large - small)
	t.Logf("cutting allocates %.0f bytes a cell", perCell)
	if perCell < 0.7*cutBytes || perCell > 1.15*cutBytes {
		t.Errorf("cutting allocates %.0f bytes a cell, and %d are counted at its peak", perCell, cutBytes)
	}
}

// A run takes no more memory than its project may, and as much where that is more than usual: a whole room's
// records over many frequencies need more than the usual 2 GiB.
func TestRunsKeepToTheMemory(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	grid, whole := model.NewGrid(20, 300, 48, 0), wave.Settings{Cell: 0.08}
	for _, c := range []struct {
		memory int64
		fits   bool
	}{{0, false}, {1 << 20, false}, {16 << 30, true}} {
		p.Memory = c.memory
		if _, err := NewRoom(p, material.Typical, grid, whole); (err == nil) != c.fits || err != nil && !errors.Is(err, solver.ErrTooLarge) {
			t.Errorf("with %d bytes: %v", c.memory, err)
		}
	}
}
