package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"
)

// breedingGain is the least improvement, dB, that counts as one.
const breedingGain = 0.01

// run breeds until the generations are done, nothing improves or the context ends. The
// archive holds what it finds.
func (b *breeding) run(s Settings) (Reason, error) {
	stall, last := 0, math.Inf(1)
	stalled := func(*eaopt.GA) bool { return b.ctx.Err() != nil || s.BreedUntil.Err() != nil || stall >= s.Patience }
	ga, err := eaopt.GAConfig{
		NPops: 1, PopSize: uint(s.Population), NGenerations: uint(s.Generations), HofSize: 1,
		Model:        niching{window: 16, distance: layoutDistance},
		ParallelEval: true,
		RNG:          rand.New(rand.NewSource(s.Seed)),
		EarlyStop:    stalled,
		Callback: func(ga *eaopt.GA) {
			stall++
			if b.archive.best.score < last-breedingGain {
				stall, last = 0, b.archive.best.score
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
		return stopReason(b.ctx.Err()), nil
	case s.BreedUntil.Err() != nil:
		return OutOfTime, nil
	case stall >= s.Patience:
		return Converged, nil
	}
	return Exhausted, nil
}

// stopReason distinguishes a deadline from a search stopped by hand.
func stopReason(err error) Reason {
	if errors.Is(err, context.DeadlineExceeded) {
		return OutOfTime
	}
	return Cancelled
}

// mutationWidth falls from a quarter of a gene's range to a hundredth as done goes from 0 to
// 1.
func mutationWidth(done float64) float64 { return 0.25 * math.Pow(0.04, done) }

// layoutDistance is how far apart two evaluated genomes' layouts are, m.
func layoutDistance(a, b eaopt.Genome) float64 {
	return apart(a.(*genome).layout, b.(*genome).layout)
}
