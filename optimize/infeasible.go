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
}

func infeasible(p *model.Project, l model.Layout) *Infeasible {
	b := p.Breaches(l)
	slices.SortStableFunc(b, func(x, y model.Breach) int { return cmp.Compare(y.Amount, x.Amount) })
	return &Infeasible{l, b}
}

// Error names the constraints that collide at the layout that comes nearest.
func (e *Infeasible) Error() string {
	parts := make([]string, len(e.Breaches))
	for i, b := range e.Breaches {
		parts[i] = b.What + " by " + b.By()
	}
	return "nothing fits; at the nearest miss " + strings.Join(parts, ", ")
}
