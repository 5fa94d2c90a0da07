package optimize

import (
	"context"
	"errors"
	"math"
	"sync/atomic"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// Stopped by hand while figures are computed, the layouts that are done come back with the
// figures that they have by themselves, and no way to them.
func TestPlaceCancelledWhileFinishing(t *testing.T) {
	t.Parallel()
	p, room := small(), newModal(small().Room.Size)
	ctx, cancel := context.WithCancel(context.Background())
	s := brief
	s.Layouts = 4
	s.Progress = afterCalls(Finishing, 1, cancel)
	r, err := Place(ctx, p, room, s)
	if !errors.Is(err, context.Canceled) || r == nil || r.Stopped != search.Cancelled || len(r.Candidates) == 0 || r.Steps != nil {
		t.Fatalf("result %+v, error %v", r, err)
	}
	for _, c := range r.Candidates {
		want, err := score.Evaluate(t.Context(), p, room, c.Layout, s.Displacement)
		if err != nil || math.Abs(float64(c.Robust-want.Robust)) > 1e-9 || c.Tolerance != want.Tolerance {
			t.Errorf("%v: %v dB within %v, alone %v dB within %v, error %v", c.Layout, c.Robust, c.Tolerance, want.Robust, want.Tolerance, err)
		}
	}
}

// Once a context has ended only the first layout is evaluated, for there must be one.
func TestFiguresOfTheFirst(t *testing.T) {
	t.Parallel()
	p := small()
	b, err := score.NewBand(newModal(p.Room.Size), p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	r := place(t, p, brief)
	layouts := []model.Layout{r.Candidates[0].Layout, r.Candidates[0].Layout, r.Candidates[0].Layout}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	all, done, err := evaluateLayouts(ctx, p, b, layouts, brief.withDefaults())
	if err != nil || !done[0] || done[1] || done[2] || all[0].Judgement.Spread() <= 0 || all[1].Pair.Left != nil {
		t.Errorf("done %v, error %v", done, err)
	}
}

// When the time is used up the figures are computed all the same; stopped by hand then, it
// ends, and says so rather than that the time was used up.
func TestPlaceStoppedAfterItsTime(t *testing.T) {
	t.Parallel()
	p := small()
	for _, byHand := range []bool{false, true} {
		d := &due{Context: context.Background()}
		after, cancel := context.WithCancel(context.Background())
		asked := new(atomic.Int64)
		dear := stoppable{Engine: newModal(p.Room.Size), fields: asked, stop: func(int64) bool {
			if byHand {
				cancel()
			}
			return byHand
		}}
		s := brief
		s.Wide, s.FiguresUntil = offRoom(p.Room.Size), after
		s.Progress = afterCalls(search.Breeding, 4, func() { d.passed.Store(true) })
		r, err := Place(d, p, dear, s)
		cancel()
		want, reason := context.DeadlineExceeded, search.OutOfTime
		if byHand {
			want, reason = context.Canceled, search.Cancelled
		}
		if r == nil || !errors.Is(err, want) || r.Stopped != reason {
			t.Fatalf("by hand %v: result %+v, error %v", byHand, r, err)
		}
		if n := asked.Load(); byHand && n > 3 || !byHand && n < 3 {
			t.Errorf("by hand %v: %d fields of the dear engine", byHand, n)
		}
	}
}
