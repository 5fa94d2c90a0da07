package optimize

import (
	"cmp"
	"slices"
	"sync"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// illegal lies above every spread in dB. A layout that breaks rules scores
// illegal plus its violation in m, so that any legal one is better and of two
// illegal ones the lesser evil (Deb, Comput. Methods Appl. Mech. Eng. 186, 2000).
const illegal = 1000

// ledger scores layouts and remembers every score. It is the search's archive.
type ledger struct {
	project *model.Project
	score   func(model.Layout) (model.Level, error)

	mu      sync.Mutex
	scores  map[model.Layout]float64
	best    note // so far
	lawful  int  // legal layouts scored
	started bool
}

// note is a layout with its score.
type note struct {
	layout model.Layout
	score  float64
}

func newLedger(p *model.Project, score func(model.Layout) (model.Level, error)) *ledger {
	return &ledger{project: p, score: score, scores: map[model.Layout]float64{}}
}

// rate returns the score of a layout, from memory if it has been here before.
func (g *ledger) rate(l model.Layout) (float64, error) {
	g.mu.Lock()
	known, ok := g.scores[l]
	g.mu.Unlock()
	if ok {
		return known, nil
	}
	score := illegal + g.project.Violation(l)
	legal := score == illegal
	if legal {
		spread, err := g.score(l)
		if err != nil {
			return 0, err
		}
		score = float64(spread)
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if _, ok := g.scores[l]; !ok && legal {
		g.lawful++
	}
	g.scores[l] = score
	if n := (note{l, score}); !g.started || n.before(g.best) {
		g.best, g.started = n, true
	}
	return score, nil
}

// before orders notes by score, and equal ones by where the marks are, so that
// the order never depends on who came first.
func (n note) before(m note) bool { return n.compare(m) < 0 }

func (n note) compare(m note) int {
	return cmp.Or(cmp.Compare(n.score, m.score), compareLayouts(n.layout, m.layout))
}

// distinct returns up to n layouts, the best first, of which no two are nearer
// than the distance in m.
func (g *ledger) distinct(n int, distance float64) []note {
	g.mu.Lock()
	all := make([]note, 0, len(g.scores))
	for l, s := range g.scores {
		all = append(all, note{l, s})
	}
	g.mu.Unlock()
	return clearing(all, n, distance)
}

// clearing keeps the best note of each neighbourhood (Pétrowski, IEEE Conf.
// Evolutionary Computation, 1996, with room for one).
func clearing(all []note, n int, distance float64) []note {
	slices.SortFunc(all, note.compare)
	var kept []note
	for _, c := range all {
		if len(kept) == n {
			break
		}
		if !slices.ContainsFunc(kept, func(k note) bool { return apart(k.layout, c.layout) < distance-1e-9 }) {
			kept = append(kept, c)
		}
	}
	return kept
}

// apart returns the largest distance between the same marks of two layouts in m.
func apart(a, b model.Layout) float64 {
	return max(r3.Norm(r3.Sub(a.Left, b.Left)), r3.Norm(r3.Sub(a.Right, b.Right)), r3.Norm(r3.Sub(a.Seat, b.Seat)))
}
