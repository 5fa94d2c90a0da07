package optimize

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"evenbass/model"
)

// weighing scores layouts for all seats that count, and remembers what each seat gets: the
// weighted sum of the robust spread at the main seat and of what counts at the others.
type weighing struct {
	main   func(model.Layout) (model.Level, error)
	others []seatScorer
	share  []float64 // of the main seat and the others; sum 1

	mu   sync.Mutex
	seen map[model.Layout]balance
}

// balance is what a layout gives the main seat, and the others on their weighted average,
// dB.
type balance struct{ main, rest float64 }

func newWeighing(p *model.Project, main func(model.Layout) (model.Level, error), others []seatScorer) *weighing {
	return &weighing{main: main, others: others, share: shares(p), seen: map[model.Layout]balance{}}
}

// alone reports whether only the main seat counts.
func (w *weighing) alone() bool { return w.share[0] >= 1 }

// score returns the figure to be minimised.
func (w *weighing) score(l model.Layout) (model.Level, error) {
	if w.alone() {
		return w.main(l)
	}
	b, err := w.balance(l)
	return model.Level(b.weigh(w.share[0])), err
}

// weigh returns the score with the given weight of the main seat.
func (b balance) weigh(share float64) float64 { return share*b.main + (1-share)*b.rest }

// balance returns what a layout gives the seats, computed once.
func (w *weighing) balance(l model.Layout) (balance, error) {
	w.mu.Lock()
	known, ok := w.seen[l]
	w.mu.Unlock()
	if ok {
		return known, nil
	}
	main, err := w.main(l)
	if err != nil {
		return balance{}, err
	}
	b := balance{main: float64(main)}
	for i, n := range w.others {
		share := w.share[i+1] / (1 - w.share[0])
		if share == 0 {
			continue
		}
		v, err := n.counted(l)
		if err != nil {
			return balance{}, err
		}
		b.rest += share * float64(v)
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.seen[l] = b
	return b, nil
}

// remember takes over layouts that have been weighed elsewhere.
func (w *weighing) remember(all []weighed) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, l := range all {
		w.seen[l.layout] = l.balance
	}
}

// weighed is a layout with what it gives the seats.
type weighed struct {
	layout model.Layout
	balance
}

// balances returns all layouts that have been weighed, in an order that does not depend on
// which goroutine came first.
func balances(w *weighing) []weighed {
	w.mu.Lock()
	defer w.mu.Unlock()
	all := make([]weighed, 0, len(w.seen))
	for l, v := range w.seen {
		all = append(all, weighed{l, v})
	}
	slices.SortFunc(all, func(x, y weighed) int {
		return cmp.Or(cmp.Compare(x.main, y.main), cmp.Compare(x.rest, y.rest), compareLayouts(x.layout, y.layout))
	})
	return all
}

// away returns how much two balances differ, dB.
func (b balance) away(o balance) float64 { return math.Hypot(b.main-o.main, b.rest-o.rest) }

// balance returns what a candidate with figures of several seats gives them.
func (c *Candidate) balance() balance {
	b := balance{main: float64(c.Robust)}
	for _, s := range c.Seats[1:] {
		b.rest += s.Weight / (1 - c.Seats[0].Weight) * float64(s.Counted)
	}
	return b
}
