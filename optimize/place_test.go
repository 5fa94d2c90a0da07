package optimize

import (
	"context"
	"testing"
	"time"
)

func TestPlace(t *testing.T) {
	p := studio()
	e := newModal(p.Room.Size)
	start := time.Now()
	last := Phase("")
	r, err := Place(context.Background(), p, e, Settings{Progress: func(d, n int, ph Phase) {
		if ph != last {
			t.Log(time.Since(start), ph)
			last = ph
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(time.Since(start), r.Evaluations, r.Stopped, r.Warnings)
	for _, c := range r.Candidates {
		t.Logf("%.3f %.3f %+v %+v", c.Robust, c.Judgement.Spread(), c.Layout, c.Tolerance)
	}
}
