package engines

import (
	"errors"
	"runtime"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/model/wave/solver"
	"evenbass/optimize/testroom"
)

// The largest room that is accepted, 25 × 25 × 8 m, is beyond the usual limit with wool and not as a plain box.
func TestCheckMemory(t *testing.T) {
	p := testroom.Read(t, "treated-room")
	need := needOf(p, SlowestDecay(t.Context(), p)).peak()
	if err := CheckMemory(t.Context(), Auto, p, 1.001*need); err != nil {
		t.Errorf("a room of 43 m³, with more memory than it needs: %v", err)
	}
	var large *MemoryError
	if err := CheckMemory(t.Context(), Auto, p, 0.999*need); !errors.As(err, &large) || large.Need != need {
		t.Errorf("with less memory than it needs: %v", err)
	}
	p.Room.Size = r3.Vec{X: 25, Y: 25, Z: 8}
	if err := CheckMemory(t.Context(), Auto, p, UsualMemory); !errors.As(err, &large) || large.Cells != 250*250*80 {
		t.Errorf("25 × 25 × 8 m: %v", err)
	}
	p.Room.Treatments = nil
	p.Room.Openings = nil
	if err := CheckMemory(t.Context(), Auto, p, 1); err != nil {
		t.Errorf("a plain box: %v", err)
	}
	if err := CheckMemory(t.Context(), model.WaveEngine, p, 1); err == nil {
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
	n := solver.NeedOf(p.Room.Size, p.Room.Air(), model.DefaultGrid(), solver.Settings{}, 1)
	if counted := n.Cut / float64(n.Cells); perCell < 0.7*counted || perCell > 1.15*counted {
		t.Errorf("cutting allocates %.0f bytes a cell, and %.0f are counted at its peak", perCell, counted)
	}
}

// Rooms of all kinds are estimated to keep fields that are no smaller than the engines' own and at most twice as
// large, whether those keep sums of layers or cells, and to run no shorter than they do, and no more than six times as long.
func TestNeedOfRooms(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"l-room", "sloped-attic", "studio-imperial", "treated-room", "attic-free", "furnished-room"} {
		p := testroom.Read(t, name)
		decay := SlowestDecay(t.Context(), p)
		n := needOf(p, decay)
		for _, c := range []struct {
			coarse  bool
			field   float64
			longest float64
		}{{false, n.usual.Field, n.seconds}, {true, n.coarse.Field, n.coarseSeconds}} {
			room, err := SearchRoom(p, response.GridFor(p.Goal, decay), c.coarse, new(fit.Memory))
			if err != nil {
				t.Fatal(err)
			}
			share := c.field / float64(room.FieldBytes())
			t.Logf("%s: %d bytes, %.2f times as many estimated", name, room.FieldBytes(), share)
			if share < 1 || share > 2 {
				t.Errorf("%s: a field takes %d bytes and is estimated at %.0f", name, room.FieldBytes(), c.field)
			}
			f, err := room.Run(t.Context(), p.Seats[0].At)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s: a run lasts %.2f s and is estimated at %.2f s", name, f.Seconds(), c.longest)
			if f.Seconds() > c.longest || f.Seconds() < c.longest/6 {
				t.Errorf("%s: a run lasts %.2f s and is estimated at %.2f s", name, f.Seconds(), c.longest)
			}
		}
	}
}

// A run takes no more memory than its project may, and as much where that is more than usual: a whole room's
// records over many frequencies need more than the usual 2 GiB.
func TestRunsKeepToTheMemory(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	grid, whole := model.NewGrid(20, 300, 48, 0), wave.Settings{Cell: 0.07}
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
