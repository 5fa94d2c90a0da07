package study

import (
	"evenbass/model"
	"evenbass/optimize"
)

// searching returns what shows the tasks of a search as the share of one task, by their usual
// length. With the wave solver a fifth is left for the bounds.
func (s *Study) searching(task string, p model.Progress) model.Progress {
	ends := map[string][2]float64{
		optimize.Tabulating: {0, 0.3}, optimize.Breeding: {0.3, 0.8},
		optimize.Polishing: {0.8, 0.9}, optimize.Finishing: {0.9, 1},
	}
	if s.coarse != nil {
		ends = map[string][2]float64{
			optimize.Tabulating: {0, 0.2}, optimize.Breeding: {0.2, 0.3}, optimize.Polishing: {0.3, 0.35},
			optimize.Refining: {0.35, 0.6}, optimize.Finishing: {0.6, 0.8},
		}
	}
	return func(phase string, share float64) {
		span := ends[phase]
		p.Report(task, span[0]+(span[1]-span[0])*share)
	}
}

// part returns what shows the searches of one of n rooms as a part of one task.
func (s *Study) part(task string, p model.Progress, i, n int) model.Progress {
	return s.searching(task, func(task string, share float64) { p.Report(task, (float64(i)+share)/float64(n)) })
}
