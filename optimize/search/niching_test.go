package search

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"github.com/MaxHalford/eaopt"
)

// toy is a genome of five numbers with two wells: one at 0.25 in every number,
// and one at 0.75 that is slightly less deep.
type toy struct{ genome }

func (g *toy) Evaluate() (float64, error) {
	return min(distanceTo(g.x, 0.25), distanceTo(g.x, 0.75)+0.02), nil
}

func (g *toy) Clone() eaopt.Genome {
	return &toy{genome{breeding: g.breeding, x: slices.Clone(g.x)}}
}

func (g *toy) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	g.genome.Crossover(&mate.(*toy).genome, rng)
}

// distanceTo returns the distance in the unit cube from the place whose every
// coordinate is v.
func distanceTo(x []float64, v float64) float64 {
	var sum float64
	for _, a := range x {
		sum += (a - v) * (a - v)
	}
	return math.Sqrt(sum)
}

func toyDistance(a, b eaopt.Genome) float64 {
	var sum float64
	for i, v := range a.(*toy).x {
		sum += math.Pow(v-b.(*toy).x[i], 2)
	}
	return math.Sqrt(sum)
}

// evolveToy runs the model on the two wells and returns the final population.
func evolveToy(t *testing.T, seed int64, check func(eaopt.Individuals)) eaopt.Individuals {
	b := &breeding{width: mutationWidth(0)}
	ga, err := eaopt.GAConfig{
		NPops: 1, PopSize: 40, NGenerations: 60, HofSize: 1, ParallelEval: true,
		Model: niching{window: 16, distance: toyDistance},
		RNG:   rand.New(rand.NewSource(seed)),
		Callback: func(ga *eaopt.GA) {
			b.width = mutationWidth(float64(ga.Generations) / 60)
			check(ga.Populations[0].Individuals)
		},
	}.NewGA()
	if err != nil {
		t.Fatal(err)
	}
	err = ga.Minimize(func(rng *rand.Rand) eaopt.Genome {
		g := &toy{genome{breeding: b, x: make([]float64, 5)}}
		for i := range g.x {
			g.x[i] = rng.Float64()
		}
		return g
	})
	if err != nil {
		t.Fatal(err)
	}
	return ga.Populations[0].Individuals
}

// Both wells keep members within 0.05 of their floor at every one of 40 seeds:
// restricted tournaments do not lose a niche (Harik 1995).
func TestNichingKeepsBothWells(t *testing.T) {
	t.Parallel()
	for seed := range int64(40) {
		near := [2]float64{1, 1}
		for _, member := range evolveToy(t, seed, func(eaopt.Individuals) {}) {
			x := member.Genome.(*toy).x
			near[0], near[1] = min(near[0], distanceTo(x, 0.25)), min(near[1], distanceTo(x, 0.75))
		}
		if max(near[0], near[1]) > 0.05 {
			t.Errorf("seed %d: nearest members at %.3f and %.3f", seed, near[0], near[1])
		}
	}
}

// The best member is never lost, and every member's score is that of its genome.
func TestNichingIsElitistAndTrue(t *testing.T) {
	t.Parallel()
	best := math.Inf(1)
	evolveToy(t, 7, func(all eaopt.Individuals) {
		if all.FitMin() > best {
			t.Errorf("the best went from %v to %v", best, all.FitMin())
		}
		best = all.FitMin()
		for _, member := range all {
			if f, _ := member.Genome.Evaluate(); f != member.Fitness {
				t.Errorf("score %v noted for a genome of %v", member.Fitness, f)
			}
		}
	})
}

func TestNichingValidates(t *testing.T) {
	for _, m := range []niching{{}, {window: 3}, {distance: toyDistance}} {
		if m.Validate() == nil {
			t.Errorf("%+v was accepted", m.window)
		}
	}
}

// Mutation moves at least one gene, stays in the cube, and leaves genes at the
// walls as free as any.
func TestMutateStaysInCube(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	g := &genome{breeding: &breeding{width: 0.5}, x: []float64{0, 0.5, 1}}
	for range 1000 {
		before := slices.Clone(g.x)
		g.Mutate(rng)
		if slices.Equal(before, g.x) || slices.Min(g.x) < 0 || slices.Max(g.x) > 1 {
			t.Fatalf("%v became %v", before, g.x)
		}
	}
}

// Crossover changes the receiver and never the mate.
func TestCrossoverLeavesMate(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	a, b := &genome{x: []float64{0.1, 0.9, 0.5}}, &genome{x: []float64{0.8, 0.2, 0.4}}
	a.Crossover(b, rng)
	if !slices.Equal(b.x, []float64{0.8, 0.2, 0.4}) || a.x[0] == 0.1 {
		t.Errorf("receiver %v, mate %v", a.x, b.x)
	}
}
