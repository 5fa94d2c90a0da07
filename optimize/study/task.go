package study

import "evenbass/optimize"

// Tasks is called when a task of a study begins, and returns what is told how much of it is
// done, 0 to 1. Tasks follow one another: the one before has ended. Nil is fine.
type Tasks func(name string) (progress func(share float64))

func (t Tasks) begin(name string) func(share float64) {
	if t == nil {
		return func(float64) {}
	}
	return t(name)
}

// steps begins a task of n parts; next says that one more is done.
func (t Tasks) steps(name string, n int) (next func()) {
	show, parts := t.begin(name), 0
	show(0)
	return func() { parts++; show(float64(parts) / float64(n)) }
}

// searchShare maps the phases of a search onto one share by their usual length. With the wave
// solver a fifth is left for the bounds.
func (s *Study) searchShare(step, total int, phase optimize.Phase) float64 {
	ends := map[optimize.Phase][2]float64{
		optimize.Tabulating: {0, 0.3}, optimize.Breeding: {0.3, 0.8},
		optimize.Polishing: {0.8, 0.9}, optimize.Finishing: {0.9, 1},
	}
	if s.coarse != nil {
		ends = map[optimize.Phase][2]float64{
			optimize.Tabulating: {0, 0.2}, optimize.Breeding: {0.2, 0.3}, optimize.Polishing: {0.3, 0.35},
			optimize.Refining: {0.35, 0.6}, optimize.Finishing: {0.6, 0.8},
		}
	}
	span := ends[phase]
	return span[0] + (span[1]-span[0])*float64(step)/float64(max(total, 1))
}
