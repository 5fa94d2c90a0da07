package model_test

import (
	"slices"
	"sync"
	"testing"

	"evenbass/model"
)

// Parts are reported together, a counter by equal steps; neither falls nor passes 1, and nil is
// ready for use.
func TestProgress(t *testing.T) {
	t.Parallel()
	var shares []float64
	var inside sync.Mutex
	p := model.Progress(func(task string, share float64) {
		if task != "cutting" || !inside.TryLock() {
			t.Errorf("told of %q, or by two at once", task)
			return
		}
		defer inside.Unlock()
		shares = append(shares, share)
	})
	var group sync.WaitGroup
	for i, part := range p.Split("cutting", 4) {
		group.Go(func() {
			part.Report("own name", 0.5)
			part.Report("own name", 0.25) // does not fall
			part.Counter("own name", 1+i)()
			part("own name", 1)
		})
	}
	group.Wait()
	if !slices.IsSorted(shares) || len(shares) != 16 || shares[len(shares)-1] != 1 {
		t.Errorf("parts: %v", shares)
	}
	shares = nil
	next := p.Counter("cutting", 2)
	next()
	next()
	next() // one more than was thought
	if !slices.Equal(shares, []float64{0.5, 1, 1}) {
		t.Errorf("steps: %v", shares)
	}
	model.Progress(nil).Counter("nothing", 1)()
	model.Progress(nil).Split("nothing", 1)[0].Report("nothing", 1)
}
