package search

import (
	"context"
	"math"
	"math/rand"

	"evenbass/model"
	"evenbass/optimize/geometry"

	"github.com/MaxHalford/eaopt"
)

// breedingGain is the least improvement, dB, that counts as one.
const breedingGain = 0.01

// The tasks of a search that a [Problem] reports.
const (
	Breeding  = "trying layouts"
	Polishing = "polishing the best by centimetres"
)

// Settings says how long layouts are bred, and with which random numbers.
type Settings struct {
	Seed        int64
	Population  int             // layouts bred at a time
	Generations int             // at most
	StallLimit  int             // generations without gain before breeding ends
	Until       context.Context // ends the breeding early, as Breed's context does, once a legal layout is found; not nil
	Always      context.Context // ends it even before that; not nil
	Progress    model.Progress
}

// Breed breeds until the generations are done, nothing improves or a context ends. The
// archive holds what it finds. Time that is used up ends no breeding that has found no legal layout yet.
func (p *Problem) Breed(ctx context.Context, g *Archive, s Settings) (Reason, error) {
	b := &breeding{ctx: s.Always, problem: p, archive: g}
	stall, last := 0, math.Inf(1)
	due := func() bool { return (ctx.Err() != nil || s.Until.Err() != nil) && g.Legal > 0 }
	stalled := func(*eaopt.GA) bool { return b.ctx.Err() != nil || due() || stall >= s.StallLimit }
	ga, err := eaopt.GAConfig{
		NPops: 1, PopSize: uint(s.Population), NGenerations: uint(s.Generations), HofSize: 1,
		Model:        niching{window: 16, distance: layoutDistance},
		ParallelEval: true,
		RNG:          rand.New(rand.NewSource(s.Seed)),
		EarlyStop:    stalled,
		Callback: func(ga *eaopt.GA) {
			stall++
			if b.archive.Best.Score < last-breedingGain {
				stall, last = 0, b.archive.Best.Score
			}
			share := float64(ga.Generations) / float64(s.Generations)
			b.width = mutationWidth(share)
			s.Progress.Report(Breeding, share)
		},
	}.NewGA()
	if err != nil {
		return "", err
	}
	b.width = mutationWidth(0)
	if err := ga.Minimize(b.newGenome); err != nil && b.ctx.Err() == nil {
		return "", err
	}
	switch {
	case b.ctx.Err() != nil:
		return StopReason(b.ctx.Err()), nil
	case due():
		return OutOfTime, nil
	case stall >= s.StallLimit:
		return Converged, nil
	}
	return Exhausted, nil
}

// mutationWidth falls from a quarter of a gene's range to a hundredth as done goes from 0 to
// 1.
func mutationWidth(done float64) float64 { return 0.25 * math.Pow(0.04, done) }

// layoutDistance is how far apart two evaluated genomes' layouts are, m.
func layoutDistance(a, b eaopt.Genome) float64 {
	return geometry.Apart(a.(*genome).layout, b.(*genome).layout)
}
