package optimize

import (
	"context"
	"sync"

	"evenbass/model"
	"evenbass/optimize/score"
)

// Settings controls a search. The zero value suits most rooms.
type Settings struct {
	Seed int64 // of all random numbers

	Population  int // layouts bred at a time; 0 means 144
	Generations int // 0 means 80
	Patience    int // generations without gain before breeding ends; 0 means 40

	Layouts      int     // wanted in the result, 1 to 5; 0 means 4
	Apart        float64 // least distance between two of them, m; 0 means 0.25 m
	Displacement float64 // of a mark in the robust spread, m; 0 means [Displacement]

	// Wide, if set, is a coarser and faster engine for the same room over the same grid.
	// The search then uses it, and the engine itself ranks and polishes what was found and
	// gives all the figures.
	Wide model.Engine

	// BreedUntil, if set, ends the breeding early, so that time is left to polish what was
	// found. The context given to Place ends everything.
	BreedUntil context.Context

	// FiguresUntil, if set, stops the computing of figures, which goes on after the deadline
	// of the context given to Place has passed.
	FiguresUntil context.Context

	// Progress, if set, receives how many steps of a phase are done. It is never called by
	// two goroutines at once.
	Progress func(done, total int, phase Phase)
}

// Phase names a stage of the search, for a display of its progress.
type Phase string

// The phases, in order.
const (
	Tabulating Phase = "computing the field"
	Breeding   Phase = "trying layouts"
	Polishing  Phase = "polishing the best by centimetres"
	Refining   Phase = "refining them on the fine grid"
	Finishing  Phase = "computing the figures"
)

// pitch is the lattice on which marks are placed, m: what a tape measure resolves.
const pitch = 0.01

// withDefaults returns the settings with every zero replaced and with a Progress that is
// safe to call.
func (s Settings) withDefaults() Settings {
	s.Population = Or(s.Population, 144)
	s.Generations = Or(s.Generations, 80)
	s.Patience = Or(s.Patience, 40)
	s.Layouts = min(Or(s.Layouts, 4), 5)
	s.Apart = Or(s.Apart, 0.25)
	s.Displacement = Or(s.Displacement, score.Displacement)
	if s.BreedUntil == nil {
		s.BreedUntil = context.Background()
	}
	if s.FiguresUntil == nil {
		s.FiguresUntil = context.Background()
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

// Or returns v, or the fallback if v is zero or negative.
func Or[T int | float64](v, fallback T) T {
	if v > 0 {
		return v
	}
	return fallback
}
