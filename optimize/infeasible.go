package optimize

import (
	"cmp"
	"slices"
	"strings"

	"evenbass/model"
)

// Infeasible is the error of a search that found no legal layout. It carries the nearest
// layout and what is wrong with it.
type Infeasible struct {
	Nearest     model.Layout
	Breaches    []model.Breach // the worst first
	Relaxations []Relaxation   // of which one is enough, the smallest first
}

func infeasible(p *model.Project, l model.Layout) *Infeasible {
	b := p.Breaches(l)
	slices.SortStableFunc(b, func(x, y model.Breach) int { return cmp.Compare(y.Amount, x.Amount) })
	return &Infeasible{l, b, relaxations(p)}
}

// namedRelaxations is how many constraints the error names.
const namedRelaxations = 5

// Error says what is wrong with the nearest layout, and which constraints could be relaxed
// by how much.
func (e *Infeasible) Error() string {
	parts := make([]string, len(e.Breaches))
	for i, b := range e.Breaches {
		parts[i] = b.What + " by " + b.By()
	}
	text := "nothing fits; in the nearest layout " + strings.Join(parts, ", ")
	if len(e.Relaxations) == 0 {
		return text + "; relaxing any single constraint would not be enough"
	}
	var ways []string
	for _, r := range e.Relaxations[:min(len(e.Relaxations), namedRelaxations)] {
		ways = append(ways, r.Constraint+" by "+r.Least.By())
	}
	return text + "; relaxing one of these would be enough: " + strings.Join(ways, ", ")
}
