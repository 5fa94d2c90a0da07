package optimize

import (
	"cmp"
	"slices"
	"strings"

	"evenbass/model"
)

// Infeasible is the error of a search that found no legal layout. It carries the
// layout that comes nearest and what is wrong with it.
type Infeasible struct {
	Nearest  model.Layout
	Breaches []model.Breach // the worst first
	Mends    []Mend         // the constraints that collide, that which need give least first
}

func infeasible(p *model.Project, l model.Layout) *Infeasible {
	b := p.Breaches(l)
	slices.SortStableFunc(b, func(x, y model.Breach) int { return cmp.Compare(y.Amount, x.Amount) })
	return &Infeasible{l, b, relaxations(p)}
}

// namedRelaxations is how many constraints are named that may give way.
const namedRelaxations = 5

// Error says what is wrong at the layout that comes nearest, and which constraints
// collide: what may give way, and by how much.
func (e *Infeasible) Error() string {
	parts := make([]string, len(e.Breaches))
	for i, b := range e.Breaches {
		parts[i] = b.What + " by " + b.By()
	}
	text := "nothing fits; at the nearest miss " + strings.Join(parts, ", ")
	if len(e.Mends) == 0 {
		return text + "; no single wish that gives way would be enough"
	}
	var ways []string
	for _, m := range e.Mends[:min(len(e.Mends), namedRelaxations)] {
		ways = append(ways, m.What+" by "+m.By)
	}
	return text + "; something fits once one of these alone gives way: " + strings.Join(ways, ", ")
}
