package concurrent_test

import (
	"strings"
	"sync/atomic"
	"testing"

	"evenbass/model/concurrent"
)

// A panic comes out of Wait once all functions have ended, with the stack of its beginning,
// also through a group within a group.
func TestPanicComesOutOfWait(t *testing.T) {
	t.Parallel()
	var ended atomic.Int32
	defer func() {
		p, ok := recover().(*concurrent.Panic)
		if !ok || p.Value != "no such wall" || !strings.Contains(string(p.Stack), "findWall") {
			t.Fatalf("caught %v", p)
		}
		if got := p.Error(); got != "internal error: no such wall" {
			t.Errorf("the error reads %q", got)
		}
		if ended.Load() != 3 {
			t.Errorf("%d functions ended, want 3", ended.Load())
		}
	}()
	var outer concurrent.Group
	outer.Go(func() {
		var inner concurrent.Group
		inner.Go(findWall)
		inner.Wait()
	})
	for range 3 {
		outer.Go(func() { ended.Add(1) })
	}
	outer.Wait()
	t.Fatal("Wait returned")
}

func findWall() { panic("no such wall") }

// Without a panic Wait just waits.
func TestWait(t *testing.T) {
	t.Parallel()
	var g concurrent.Group
	var sum atomic.Int32
	for i := range 10 {
		g.Go(func() { sum.Add(int32(i)) })
	}
	g.Wait()
	if sum.Load() != 45 {
		t.Errorf("the sum is %d", sum.Load())
	}
}
