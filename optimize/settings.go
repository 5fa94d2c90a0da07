package optimize

import (
	"context"
	"sync"

	"evenbass/model"
)

// Settings controls a search. The zero value is a good choice.
type Settings struct {
	Seed int64 // of all that is random

	Population  int // layouts bred at a time; 0 is 144
	Generations int // 0 is 80
	Patience    int // generations without gain before it ends; 0 is 40

	Layouts      int     // wanted in the result, 1 to 5; 0 is 4
	Apart        float64 // least distance between two of them, m; 0 is 0.25 m
	Displacement float64 // of a mark in the robust spread, m; 0 is 0.05 m

	// Wide, if set, is a cheaper engine for the same room over the same grid. The wide
	// search is then made by it. What it finds is ranked again and polished by the
	// engine itself, which gives all the figures.
	Wide model.Engine

	// Enough, if set, ends the breeding when it is done, so that time is left for
	// the polish of what was found. The context given to Place ends everything.
	Enough context.Context

	// After, if set, stops what is still computed when the time of the context given to
	// Place is used up: the figures of what was found until then.
	After context.Context

	// Progress, if set, is told how many steps of a phase are done. It is never
	// called by two goroutines at once.
	Progress func(done, total int, phase Phase)
}

// Phase names a stage of the search for whoever shows its progress.
type Phase string

// The phases in their order.
const (
	Tabulating Phase = "listening to the room"
	Breeding   Phase = "trying layouts"
	Polishing  Phase = "moving the best by centimetres"
	Refining   Phase = "moving them on the finer grid"
	Finishing  Phase = "computing the figures"
)

// pitch is the lattice on which marks are placed, m: what a tape can do.
const pitch = 0.01

// withDefaults returns the settings with every zero replaced and Progress safe
// to call.
func (s Settings) withDefaults() Settings {
	s.Population = or(s.Population, 144)
	s.Generations = or(s.Generations, 80)
	s.Patience = or(s.Patience, 40)
	s.Layouts = min(or(s.Layouts, 4), 5)
	s.Apart = or(s.Apart, 0.25)
	s.Displacement = or(s.Displacement, 0.05)
	if s.Enough == nil {
		s.Enough = context.Background()
	}
	if s.After == nil {
		s.After = context.Background()
	}
	report := s.Progress
	var mu sync.Mutex
	s.Progress = func(done, total int, phase Phase) {
		if report == nil {
			return
		}
		mu.Lock()
		defer mu.Unlock()
		report(done, total, phase)
	}
	return s
}

// or returns v unless it is zero or below, and then the fallback.
func or[T int | float64](v, fallback T) T {
	if v > 0 {
		return v
	}
	return fallback
}
