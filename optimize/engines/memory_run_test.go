package engines

import (
	"errors"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
	"evenbass/model/wave/solver"
	"evenbass/optimize/testroom"
)

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
