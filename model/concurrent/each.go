package concurrent

import (
	"cmp"
	"runtime"
	"sync/atomic"
)

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
