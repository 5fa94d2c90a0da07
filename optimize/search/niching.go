package search

import (
	"errors"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"
)

// niching is an evolution model that keeps several local optima alive: a child replaces the
// nearest of a few members, and only if it is better (restricted tournament; Harik, Proc.
// 6th Int. Conf. Genetic Algorithms, 1995). Its parents are near each other too, so that few
// children fall between two optima. A best member is never lost.
type niching struct {
	window   int // members among which the nearest is sought
	distance func(a, b eaopt.Genome) float64
}

// Apply makes one child per member.
func (m niching) Apply(pop *eaopt.Population) error {
	members, rng := pop.Individuals, pop.RNG
	children := make(eaopt.Individuals, len(members))
	for i := range children {
		parent := members[rng.Intn(len(members))]
		child := parent.Clone(rng)
		if j := m.nearest(members, parent.Genome, rng, true); j >= 0 {
			child.Crossover(members[j], rng)
		}
		child.Mutate(rng)
		children[i] = child
	}
	if err := children.Evaluate(true); err != nil {
		return err
	}
	for _, child := range children {
		if j := m.nearest(members, child.Genome, rng, false); child.Fitness < members[j].Fitness {
			members[j] = child
		}
	}
	return nil
}

// nearest returns which of a few members picked at random is nearest to g. If others is set,
// members at no distance are ignored; it returns -1 if none is left.
func (m niching) nearest(members eaopt.Individuals, g eaopt.Genome, rng *rand.Rand, others bool) int {
	best, least := -1, math.Inf(1)
	for range m.window {
		j := rng.Intn(len(members))
		d := m.distance(g, members[j].Genome)
		if d < least && !(others && d == 0) {
			best, least = j, d
		}
	}
	return best
}

// Validate implements [eaopt.Model].
func (m niching) Validate() error {
	if m.window < 1 || m.distance == nil {
		return errors.New("optimize: niching needs a window and a distance")
	}
	return nil
}
