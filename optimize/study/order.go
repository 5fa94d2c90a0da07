package study

import (
	"context"
	"slices"

	"evenbass/optimize"
)

// order puts the layouts in the order of [optimize.Result.Order], with what is known of each, and
// searches the steps to the first one again if that has changed.
func (s *Study) order(ctx context.Context, out *Places) (err error) {
	r := out.Result
	order := r.Order()
	if slices.IsSorted(order) {
		return nil
	}
	r.Candidates = picked(r.Candidates, order)
	if st := out.Stability; st != nil {
		st.Layouts = picked(st.Layouts, order)
		copy(st.Cards, picked(st.Cards[:len(order)], order))
	}
	if r.Now != nil && order[0] != 0 {
		r.Steps, err = optimize.Steps(ctx, s.Project, s.Engine, r.Now.Layout, r.Candidates[0].Layout)
	}
	return err
}

// picked returns the elements of a list in another order.
func picked[T any](list []T, order []int) []T {
	out := make([]T, len(order))
	for i, k := range order {
		out[i] = list[k]
	}
	return out
}
