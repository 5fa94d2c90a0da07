package search

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"evenbass/model"
)

// Reason says why a search ended.
type Reason string

// The reasons.
const (
	Converged Reason = "no further gain"
	Exhausted Reason = "all generations done"
	Cancelled Reason = "stopped by hand"
	OutOfTime Reason = "time used up"

	// CutShort is for callers that compute more after Place and were stopped then.
	CutShort Reason = "stopped by hand after the search"
)

// StopReason distinguishes a deadline from a search stopped by hand.
func StopReason(err error) Reason {
	if errors.Is(err, context.DeadlineExceeded) {
		return OutOfTime
	}
	return Cancelled
}

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
