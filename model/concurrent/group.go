// Package concurrent runs functions side by side. A panic in one of them comes out where the
// others are waited for, with its stack, so that the caller can go on with other work: the
// runtime alone would end the whole program.
package concurrent

import (
	"cmp"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Group runs functions side by side. The zero value is ready for use.
type Group struct {
	running sync.WaitGroup
	mutex   sync.Mutex
	first   *Panic
}

// Go runs a function beside the others.
func (g *Group) Go(work func()) {
	g.running.Go(func() {
		defer func() {
			value := recover()
			if value == nil {
				return
			}
			g.mutex.Lock()
			defer g.mutex.Unlock()
			if g.first == nil {
				g.first = Caught(value)
			}
		}()
		work()
	})
}

// Wait waits for all functions. If any of them panicked, Wait panics with the first [*Panic].
func (g *Group) Wait() {
	g.running.Wait()
	if g.first != nil {
		panic(g.first)
	}
}

// Panic is a panic that was recovered from, with the stack where it began.
type Panic struct {
	Value any
	Stack []byte
}

// Caught returns what recover gave as a panic with its stack. It must be called by the deferred
// function that recovers. A [*Panic] stays as it is, with the stack of its beginning.
func Caught(value any) *Panic {
	if p, ok := value.(*Panic); ok {
		return p
	}
	return &Panic{Value: value, Stack: debug.Stack()}
}

// Error says what the panic was about.
func (p *Panic) Error() string { return fmt.Sprintf("internal error: %v", p.Value) }

// String is the panic with its stack, which the runtime prints where nothing recovers.
func (p *Panic) String() string { return fmt.Sprintf("%v\n\n%s", p.Value, p.Stack) }

// Try runs a function and returns its error, or its panic as a [*Panic].
func Try(work func() error) (err error) {
	defer func() {
		if value := recover(); value != nil {
			err = Caught(value)
		}
	}()
	return work()
}

// Each runs work(0) to work(n-1) on all cores and returns the error with the lowest
// index.
func Each(n int, work func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg Group
	for range min(n, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = work(i)
			}
		})
	}
	wg.Wait()
	return cmp.Or(errs...)
}
