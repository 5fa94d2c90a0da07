package score

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

// Weighing scores layouts for all seats that count, and remembers what each seat gets: the
// weighted sum of the robust spread at the main seat and of what counts at the others.
type Weighing struct {
	main   func(context.Context, model.Layout) (model.Level, error)
	others []SeatScorer
	share  []float64 // of the main seat and the others; sum 1

	mu   sync.Mutex
	seen map[model.Layout]Balance
}

// Balance is what a layout gives the main seat, and the others on their weighted average,
// dB.
type Balance struct{ Main, Rest float64 }

func NewWeighing(p *model.Project, main func(context.Context, model.Layout) (model.Level, error), others []SeatScorer) *Weighing {
	return &Weighing{main: main, others: others, share: SeatWeights(p), seen: map[model.Layout]Balance{}}
}

// Alone reports whether only the main seat counts.
func (w *Weighing) Alone() bool { return w.share[0] >= 1 }

// Score returns the figure to be minimised.
func (w *Weighing) Score(ctx context.Context, l model.Layout) (model.Level, error) {
	if w.Alone() {
		return w.main(ctx, l)
	}
	b, err := w.Balance(ctx, l)
	return model.Level(b.Weigh(w.share[0])), err
}

// Weigh returns the score with the given weight of the main seat.
func (b Balance) Weigh(share float64) float64 { return share*b.Main + (1-share)*b.Rest }

// Balance returns what a layout gives the seats, computed once.
func (w *Weighing) Balance(ctx context.Context, l model.Layout) (Balance, error) {
	w.mu.Lock()
	known, ok := w.seen[l]
	w.mu.Unlock()
	if ok {
		return known, nil
	}
	main, err := w.main(ctx, l)
	if err != nil {
		return Balance{}, err
	}
	b := Balance{Main: float64(main)}
	for i, n := range w.others {
		share := w.share[i+1] / (1 - w.share[0])
		if share == 0 {
			continue
		}
		v, err := n.Counted(ctx, l)
		if err != nil {
			return Balance{}, err
		}
		b.Rest += share * float64(v)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.seen[l] = b
	return b, nil
}

// Remember takes over layouts that have been weighed elsewhere.
func (w *Weighing) Remember(all []Weighed) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, l := range all {
		w.seen[l.Layout] = l.Balance
	}
}

// Weighed is a layout with what it gives the seats.
type Weighed struct {
	Layout model.Layout
	Balance
}

// Balances returns all layouts that have been weighed, in an order that does not depend on
// which goroutine came first.
func Balances(w *Weighing) []Weighed {
	w.mu.Lock()
	defer w.mu.Unlock()
	all := make([]Weighed, 0, len(w.seen))
	for l, v := range w.seen {
		all = append(all, Weighed{l, v})
	}
	slices.SortFunc(all, func(x, y Weighed) int {
		return cmp.Or(cmp.Compare(x.Main, y.Main), cmp.Compare(x.Rest, y.Rest), geometry.CompareLayouts(x.Layout, y.Layout))
	})
	return all
}

// Away returns how much two balances differ, dB.
func (b Balance) Away(o Balance) float64 { return math.Hypot(b.Main-o.Main, b.Rest-o.Rest) }

// Balance returns what a candidate with figures of several seats gives them.
func (c *Candidate) Balance() Balance {
	b := Balance{Main: float64(c.Robust)}
	for _, s := range c.Seats[1:] {
		b.Rest += s.Weight / (1 - c.Seats[0].Weight) * float64(s.Counted)
	}
	return b
}
