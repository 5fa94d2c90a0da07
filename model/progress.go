package model

import "sync"

// Progress receives the name of the task at hand and how much of it is done, 0 to 1. It is called
// by one goroutine at a time. Nil is ready for use.
type Progress func(task string, share float64)

// Report passes on how much of a task is done.
func (p Progress) Report(task string, share float64) {
	if p != nil {
		p(task, share)
	}
}

// Counter returns a function that reports one more of the n steps of a task as done. Several
// goroutines may call it.
func (p Progress) Counter(task string, n int) (next func()) {
	var mutex sync.Mutex
	done := 0
	return func() {
		mutex.Lock()
		defer mutex.Unlock()
		done++
		p.Report(task, min(1, float64(done)/float64(n)))
	}
}

// Split returns n equal parts of a task, which several goroutines may report at once, whatever they
// call it. The reported share never falls.
func (p Progress) Split(task string, n int) []Progress {
	var mutex sync.Mutex
	done, parts := make([]float64, n), make([]Progress, n)
	for i := range parts {
		parts[i] = func(_ string, share float64) {
			mutex.Lock()
			defer mutex.Unlock()
			done[i] = max(done[i], share)
			var sum float64
			for _, d := range done {
				sum += d
			}
			p.Report(task, sum/float64(n))
		}
	}
	return parts
}
