package optimize

import (
	"sync"

	"evenbass/model"
)

// weighing scores layouts for all seats that count, and remembers what each seat
// gets: the weighted sum of the robust spread at the main seat and of what counts at
// the others.
type weighing struct {
	main   func(model.Layout) (model.Level, error)
	others []listener
	share  []float64 // of the main seat and the others; sum 1

	mu   sync.Mutex
	seen map[model.Layout]balance
}

// balance is what a layout gives the main seat, and the others on their weighted
// average, dB.
type balance struct{ main, rest float64 }

func newWeighing(p *model.Project, main func(model.Layout) (model.Level, error), others []listener) *weighing {
	return &weighing{main: main, others: others, share: shares(p), seen: map[model.Layout]balance{}}
}

// alone reports whether no seat but the main one counts.
func (w *weighing) alone() bool { return w.share[0] >= 1 }

// score returns the figure to be minimised.
func (w *weighing) score(l model.Layout) (model.Level, error) {
	if w.alone() {
		return w.main(l)
	}
	b, err := w.balance(l)
	return model.Level(b.weigh(w.share[0])), err
}

// weigh returns the score if the main seat has the given share.
func (b balance) weigh(share float64) float64 { return share*b.main + (1-share)*b.rest }

// balance returns what a layout gives the seats, from memory if it is known.
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
