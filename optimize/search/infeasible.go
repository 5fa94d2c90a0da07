package search

import (
	"cmp"
	"slices"

	"evenbass/model"
)

// Infeasible is the error of a search that found no legal layout. It carries the nearest
// layout and what is wrong with it.
type Infeasible struct {
	Nearest     model.Layout
	Breaches    []model.Breach // the worst first
	Relaxations []Relaxation   // of which one is enough, the smallest first
}

func NewInfeasible(p *model.Project, l model.Layout) *Infeasible {
	b := p.Breaches(l)
	slices.SortStableFunc(b, func(x, y model.Breach) int { return cmp.Compare(y.Amount, x.Amount) })
	return &Infeasible{l, b, relaxations(p)}
}

// Error says no more than that nothing fits: package report puts the reasons into words.
func (e *Infeasible) Error() string { return "no layout keeps all the rules of the room file" }
