package optimize

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"

	"evenbass/optimize/search"
)

// With two seats that count, a wide search that is stopped, in whichever phase, comes back
// with the best of what it has found, by the wide engine where it got no further.
func TestTwoSeatSearchStopped(t *testing.T) {
	t.Parallel()
	p := sofaRoom(1)
	for _, phase := range []string{search.Breeding, search.Polishing, Refining, Finishing} {
		ctx, cancel := context.WithCancel(context.Background())
		s := brief
		never := func(int64) {}
		s.Wide = stoppable{Engine: offRoom(p.Room.Size), fields: new(atomic.Int64), stop: never}
		s.Progress = afterCalls(phase, 2, cancel)
		r, err := Place(ctx, p, stoppable{Engine: newModal(p.Room.Size), fields: new(atomic.Int64), stop: never}, s)
		cancel()
		if !errors.Is(err, context.Canceled) || r == nil || r.Stopped != search.Cancelled || len(r.Candidates) == 0 {
			t.Fatalf("%s: result %+v, error %v", phase, r, err)
		}
		if c := r.Candidates[0]; p.Violation(c.Layout) > 0 || len(c.Seats) != 2 {
			t.Errorf("%s: best so far %+v, %d seats", phase, c.Layout, len(c.Seats))
		}
	}
}
