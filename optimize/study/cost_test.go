package study

import (
	"context"
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
)

// The cost grows with the runs; the fast engines have none, and a run that is stopped while it is
// timed says so.
func TestCost(t *testing.T) {
	t.Parallel()
	p := &model.Project{Room: *testroom.Concrete(), Seats: []model.Seat{{Height: 1}}}
	p.Room.Size = r3.Vec{X: 2, Y: 1.8, Z: 1.6}
	p.Speakers.AxisHeights = []float64{1}
	s, err := New(t.Context(), model.WaveEngine, p)
	if err != nil {
		t.Fatal(err)
	}
	few, err := s.cost(t.Context(), optimize.Effort{Wide: 1})
	if err != nil {
		t.Fatal(err)
	}
	more, err := s.cost(t.Context(), optimize.Effort{Wide: 1, Exact: 1})
	if err != nil || math.Abs(float64(more.Time)/float64(few.Time)-(1+exactCost)) > 0.01 {
		t.Errorf("one run takes %+v, with a finer one %+v (%v)", few, more, err)
	}
	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := s.cost(stopped, optimize.Effort{Exact: 1e6}); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: error %v", err)
	}
	if s, err = New(t.Context(), model.ModeEngine, p); err != nil {
		t.Fatal(err)
	}
	if c, err := s.cost(t.Context(), optimize.Effort{Exact: 1e9}); err != nil || c != (engines.Cost{}) {
		t.Errorf("by modes: %+v, %v", c, err)
	}
}

// The trials of a room for the wave solver take runs by each wall and the wool at either end
// for every layout; those of a box are another matter, and none take none.
func TestTrialRuns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		room            string
		trials, layouts int
		wave            bool
		want            int
	}{
		{"spare-room", 100, 4, false, 0},
		{"l-room", 0, 4, true, 0},
		{"l-room", 100, 4, true, 32},     // half of 13 runs for 4 layouts and what stands now,
		{"treated-room", 1, 3, true, 60}, // 15 runs for 3 and what stands now,
	} {
		p := testroom.Read(t, c.room)
		s := &Study{Project: p}
		if c.wave {
			s.coarse = new(wave.Room)
		}
		if got := s.trialRuns(c.trials, c.layouts); got != c.want {
			t.Errorf("%s, %d trials, %d layouts: %d runs, want %d", c.room, c.trials, c.layouts, got, c.want)
		}
	}
}
