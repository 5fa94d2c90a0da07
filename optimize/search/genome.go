package search

import (
	"context"
	"math"
	"math/rand"
	"slices"

	"evenbass/model"

	"github.com/MaxHalford/eaopt"
)

// breeding holds what all genomes of a search share.
type breeding struct {
	ctx     context.Context
	problem *Problem
	archive *Archive
	width   float64 // of a mutation, relative to a gene's range
}

// genome is one layout as a point of the unit cube.
type genome struct {
	*breeding
	x      []float64
	layout model.Layout // once evaluated
}

// newGenome returns a random genome.
func (b *breeding) newGenome(rng *rand.Rand) eaopt.Genome {
	g := &genome{breeding: b, x: make([]float64, b.problem.dim)}
	for i := range g.x {
		g.x[i] = rng.Float64()
	}
	return g
}

// Evaluate returns the score of the genome's layout, or the context's error once that has
// ended.
func (g *genome) Evaluate() (float64, error) {
	if err := g.ctx.Err(); err != nil {
		return 0, err
	}
	g.layout = g.problem.decode(g.x)
	return g.archive.Rate(g.ctx, g.layout)
}

// Mutate moves at least one gene by a normally distributed step and reflects it at the walls
// of the cube.
func (g *genome) Mutate(rng *rand.Rand) {
	if len(g.x) == 0 {
		return
	}
	sure := rng.Intn(len(g.x))
	for i := range g.x {
		if i == sure || rng.Float64() < 1/float64(len(g.x)) {
			g.x[i] = reflected(g.x[i] + g.width*rng.NormFloat64())
		}
	}
}

// Crossover blends the mate into the receiver and leaves the mate unchanged: it belongs to
// the living population, whose scores must stay valid.
func (g *genome) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	for i, v := range mate.(*genome).x {
		share := 1.5*rng.Float64() - 0.25
		g.x[i] = reflected(g.x[i] + share*(v-g.x[i]))
	}
}

// Clone implements [eaopt.Genome].
func (g *genome) Clone() eaopt.Genome {
	c := *g
	c.x = slices.Clone(g.x)
	return &c
}

// reflected folds a number into [0, 1].
func reflected(v float64) float64 {
	v = math.Abs(math.Mod(v, 2))
	if v > 1 {
		v = 2 - v
	}
	return v
}
