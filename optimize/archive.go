package optimize

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// illegal is larger than any spread in dB. A layout that breaks rules scores illegal plus
// its violation in m, so that any legal layout is better, and of two illegal ones the
// smaller violation (Deb, Comput. Methods Appl. Mech. Eng. 186, 2000).
const illegal = 1000

// archive scores layouts and remembers every score.
type archive struct {
	project *model.Project
	score   func(context.Context, model.Layout) (model.Level, error)

	mu      sync.Mutex
	scores  map[model.Layout]float64
	best    record // so far
	legal   int    // legal layouts scored
	started bool
}

// record is a layout with its score.
type record struct {
	layout model.Layout
	score  float64
}

func newArchive(p *model.Project, score func(context.Context, model.Layout) (model.Level, error)) *archive {
	return &archive{project: p, score: score, scores: map[model.Layout]float64{}}
}

// rate returns the score of a layout, computed once.
func (g *archive) rate(ctx context.Context, l model.Layout) (float64, error) {
	g.mu.Lock()
	known, ok := g.scores[l]
	g.mu.Unlock()
	if ok {
		return known, nil
	}
	score := illegal + g.project.Violation(l)
	legal := score == illegal
	if legal {
		spread, err := g.score(ctx, l)
		if err != nil {
			return 0, err
		}
		score = float64(spread)
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if _, ok := g.scores[l]; !ok && legal {
		g.legal++
	}
	g.scores[l] = score
	if n := (record{l, score}); !g.started || n.before(g.best) {
		g.best, g.started = n, true
	}
	return score, nil
}

// before orders records by score, and equal ones by their marks, so that the order never
// depends on which goroutine came first.
func (n record) before(m record) bool { return n.compare(m) < 0 }

func (n record) compare(m record) int {
	return cmp.Or(cmp.Compare(n.score, m.score), geometry.CompareLayouts(n.layout, m.layout))
}

// distinct returns up to n layouts, the best first, of which no two are nearer to each other
// than the distance in m.
func (g *archive) distinct(n int, distance float64) []record {
	g.mu.Lock()
	all := make([]record, 0, len(g.scores))
	for l, s := range g.scores {
		all = append(all, record{l, s})
	}
	g.mu.Unlock()
	return bestApart(all, n, distance)
}

// bestApart keeps the best record of each neighbourhood (clearing with room for one;
// Pétrowski, IEEE Conf. Evolutionary Computation, 1996).
func bestApart(all []record, n int, distance float64) []record {
	slices.SortFunc(all, record.compare)
	var kept []record
	for _, c := range all {
		if len(kept) == n {
			break
		}
		if !slices.ContainsFunc(kept, func(k record) bool { return apart(k.layout, c.layout) < distance-1e-9 }) {
			kept = append(kept, c)
		}
	}
	return kept
}

// apart returns the largest distance between the same marks of two layouts, m.
func apart(a, b model.Layout) float64 {
	return max(r3.Norm(r3.Sub(a.Left, b.Left)), r3.Norm(r3.Sub(a.Right, b.Right)), r3.Norm(r3.Sub(a.Seat, b.Seat)))
}
