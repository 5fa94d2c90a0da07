package search

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

// Illegal is larger than any spread in dB. A layout that breaks rules scores illegal plus
// its violation in m, so that any legal layout is better, and of two illegal ones the
// smaller violation (Deb, Comput. Methods Appl. Mech. Eng. 186, 2000).
const Illegal = 1000

// Archive scores layouts and remembers every score.
type Archive struct {
	project *model.Project
	score   func(context.Context, model.Layout) (model.Level, error)

	mu      sync.Mutex
	scores  map[model.Layout]float64
	Best    Record // so far
	Legal   int    // legal layouts scored
	started bool
}

// Record is a layout with its score.
type Record struct {
	Layout model.Layout
	Score  float64
}

func NewArchive(p *model.Project, score func(context.Context, model.Layout) (model.Level, error)) *Archive {
	return &Archive{project: p, score: score, scores: map[model.Layout]float64{}}
}

// Rate returns the score of a layout, computed once.
func (g *Archive) Rate(ctx context.Context, l model.Layout) (float64, error) {
	g.mu.Lock()
	known, ok := g.scores[l]
	g.mu.Unlock()
	if ok {
		return known, nil
	}
	score := Illegal + g.project.Violation(l)
	legal := score == Illegal
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
		g.Legal++
	}
	g.scores[l] = score
	if n := (Record{l, score}); !g.started || n.before(g.Best) {
		g.Best, g.started = n, true
	}
	return score, nil
}

// before orders records by score, and equal ones by their marks, so that the order never
// depends on which goroutine came first.
func (n Record) before(m Record) bool { return n.Compare(m) < 0 }

func (n Record) Compare(m Record) int {
	return cmp.Or(cmp.Compare(n.Score, m.Score), geometry.CompareLayouts(n.Layout, m.Layout))
}

// Distinct returns up to n layouts, the best first, of which no two are nearer to each other
// than the distance in m.
func (g *Archive) Distinct(n int, distance float64) []Record {
	g.mu.Lock()
	all := make([]Record, 0, len(g.scores))
	for l, s := range g.scores {
		all = append(all, Record{l, s})
	}
	g.mu.Unlock()
	return BestApart(all, n, distance)
}

// BestApart keeps the best record of each neighbourhood (clearing with room for one;
// Pétrowski, IEEE Conf. Evolutionary Computation, 1996).
func BestApart(all []Record, n int, distance float64) []Record {
	slices.SortFunc(all, Record.Compare)
	var kept []Record
	for _, c := range all {
		if len(kept) == n {
			break
		}
		if !slices.ContainsFunc(kept, func(k Record) bool { return geometry.Apart(k.Layout, c.Layout) < distance-1e-9 }) {
			kept = append(kept, c)
		}
	}
	return kept
}
