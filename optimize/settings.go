package optimize

import (
	"context"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/table"
)

// Settings controls a search. The zero value suits most rooms.
type Settings struct {
	Seed int64 // of all random numbers

	Population  int // layouts bred at a time; 0 means 144
	Generations int // 0 means 80
	StallLimit  int // generations without gain before breeding ends; 0 means 40

	Layouts      int     // wanted in the result, 1 to 5; 0 means 4
	Apart        float64 // least distance between two of them, m; 0 means 0.25 m
	Displacement float64 // of a speaker in the robust spread, m; 0 means [Displacement]

	// Wide, if set, is a coarser and faster engine for the same room over the same grid.
	// The search then uses it, and the engine itself ranks and polishes what was found and
	// gives all the figures.
	Wide model.Engine

	// Tables, if set, keeps the fields tabulated, for searches under other rules.
	Tables *Tables

	// BreedUntil, if set, ends the breeding early, so that time is left to polish what was found. It is a
	// context and not a share of the deadline, because a search reads no clock.
	BreedUntil context.Context

	// FiguresUntil, if set, stops the computing of figures. Figures are computed even after the deadline of
	// Place's context, and a context past its deadline no longer reports a cancellation.
	FiguresUntil context.Context

	Progress model.Progress // receives the tasks of the search, in their order
}

// The tasks of a search, in order.
const (
	Tabulating = table.Filling
	Refining   = "refining them on the fine grid"
	Finishing  = "computing the figures"
)

// withDefaults returns the settings with every zero replaced.
func (s Settings) withDefaults() Settings {
	s.Population = Or(s.Population, 144)
	s.Generations = Or(s.Generations, 80)
	s.StallLimit = Or(s.StallLimit, 40)
	s.Layouts = min(Or(s.Layouts, 4), 5)
	s.Apart = Or(s.Apart, 0.25)
	s.Displacement = Or(s.Displacement, score.Displacement)
	if s.BreedUntil == nil {
		s.BreedUntil = context.Background()
	}
	if s.FiguresUntil == nil {
		s.FiguresUntil = context.Background()
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
