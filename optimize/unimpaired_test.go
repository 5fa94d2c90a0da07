package optimize

import (
	"math/rand"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// standing puts the pair of a room at a distance from the front wall and from the left one, and a chair on the
// mid-line, m.
func standing(p *model.Project, x, y, chair float64) *model.Project {
	p.Speakers.Placed, p.Seats[0].Placed = true, true
	p.Speakers.Left, p.Speakers.Right = r3.Vec{X: x, Y: y, Z: 0.98}, r3.Vec{X: x, Y: p.Room.Size.Y - y, Z: 0.98}
	p.Seats[0].At = r3.Vec{X: chair, Y: p.Room.Size.Y / 2, Z: 1.2}
	return p
}

// searched places with or without looking for a layout that impairs nothing.
func searched(t *testing.T, p *model.Project, s Settings, offers bool) *Result {
	t.Helper()
	h, err := newPlacing(p, newModal(p.Room.Size), s)
	if err != nil {
		t.Fatal(err)
	}
	h.offers = offers
	r, err := h.run(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// unimpaired lists the candidates that impair nothing.
func unimpaired(r *Result) (list []score.Candidate) {
	now := r.Now.Criteria()
	for _, c := range r.Candidates {
		then := c.Criteria()
		if score.Unimpaired(&now, &then) {
			list = append(list, c)
		}
	}
	return list
}

// Where the best layout impairs the sofa, the list offers one that impairs nothing in the place of another, with one
// engine and with two. No layout of 400 others that impairs nothing scores better by 1.5 dB: the search is short.
func TestPlaceOffersAnUnimpairedLayout(t *testing.T) {
	t.Parallel()
	p := standing(sofaRoom(0.1), 0.52, 0.63, 2.03)
	for name, wide := range map[string]model.Engine{"one engine": nil, "two engines": offRoom(p.Room.Size)} {
		s := brief
		s.Wide = wide
		without, with := searched(t, p, s, false), searched(t, p, s, true)
		if n := len(unimpaired(without)); n > 0 {
			t.Fatalf("%s: the search alone has %d layouts that impair nothing, so that the test shows nothing", name, n)
		}
		offered := unimpaired(with)
		if len(offered) != 1 || len(with.Candidates) != len(without.Candidates) {
			t.Fatalf("%s: %d of %d layouts impair nothing, want 1 of %d", name, len(offered), len(with.Candidates), len(without.Candidates))
		}
		if p.Violation(offered[0].Layout) > 0 || with.Candidates[0].Layout != without.Candidates[0].Layout {
			t.Errorf("%s: it breaks rules, or the best is another: %+v", name, offered[0].Layout)
		}
		for _, c := range with.Candidates {
			kept := slices.ContainsFunc(without.Candidates, func(o score.Candidate) bool { return o.Layout == c.Layout })
			if !kept && c.Layout != offered[0].Layout {
				t.Errorf("%s: a layout that only a search for others gives: %+v", name, c.Layout)
			}
		}
		if best := bestUnimpaired(t, p, with, s, 400); best < float64(offered[0].Score)-1.5 {
			t.Errorf("%s: it scores %.2f dB, another one %.2f dB", name, offered[0].Score, best)
		}
	}
}

// bestUnimpaired returns the best score of random layouts that impair nothing.
func bestUnimpaired(t *testing.T, p *model.Project, r *Result, s Settings, tries int) float64 {
	t.Helper()
	problem, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	e := newModal(p.Room.Size)
	main, others, now, best := score.NewScorer(e, p, score.Displacement), score.SeatScorers(p, e), r.Now.Criteria(), 1e9
	w := score.NewWeighing(p, main.Robust, others)
	draw := rand.New(rand.NewSource(s.Seed))
	for range tries {
		l := problem.Random(draw.Float64)
		if p.Violation(l) > 0 {
			continue
		}
		c, err := readCriteria(t.Context(), main, others, l)
		if err != nil {
			t.Fatal(err)
		}
		if !score.Unimpaired(&now, &c) {
			continue
		}
		v, err := w.Score(t.Context(), l)
		if err != nil {
			t.Fatal(err)
		}
		best = min(best, float64(v))
	}
	return best
}

// Where the best layout impairs nothing, or nothing stands yet, or one layout is wanted, nothing changes.
func TestPlaceOffersNoOtherWhereTheBestImpairsNothing(t *testing.T) {
	t.Parallel()
	unplaced, one := standing(sofaRoom(0.1), 0.52, 0.63, 2.03), brief
	unplaced.Speakers.Placed = false
	one.Layouts = 1
	for name, c := range map[string]struct {
		p *model.Project
		s Settings
	}{"the best impairs nothing": {standing(small(), 0.52, 0.80, 2.01), brief}, "nothing stands": {unplaced, brief}} {
		if d := cmp.Diff(searched(t, c.p, c.s, false), searched(t, c.p, c.s, true)); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	p := standing(sofaRoom(0.1), 0.52, 0.63, 2.03)
	if d := cmp.Diff(searched(t, p, one, false), place(t, p, one)); d != "" {
		t.Errorf("one layout: %s", d)
	}
}

// The other layout is the same to the last digit on one core and on two.
func TestUnimpairedRepeats(t *testing.T) {
	p := standing(sofaRoom(0.1), 0.52, 0.63, 2.03)
	var results []*Result
	for _, cores := range []int{1, 2} {
		old := runtime.GOMAXPROCS(cores)
		results = append(results, place(t, p, brief))
		runtime.GOMAXPROCS(old)
	}
	if len(unimpaired(results[0])) == 0 {
		t.Fatal("no layout impairs nothing")
	}
	if d := cmp.Diff(results[0], results[1]); d != "" {
		t.Error(d)
	}
}

// Another layout takes the place of a neighbour, but never of the best; else that of the last, if the list is full.
func TestWithout(t *testing.T) {
	t.Parallel()
	at := func(x float64) model.Layout { return model.Layout{Seat: r3.Vec{X: x}} }
	list := []search.Record{{Layout: at(1)}, {Layout: at(2)}, {Layout: at(3)}}
	for _, c := range []struct {
		x    float64
		most int
		want []float64 // the seats of those dropped
	}{{1.1, 3, []float64{3}}, {1.9, 3, []float64{2}}, {5, 3, []float64{3}}, {5, 4, nil}, {2.9, 4, []float64{3}}} {
		h := &placing{settings: Settings{Layouts: c.most, Apart: 0.25}}
		rest, dropped := h.without(list, at(c.x))
		var got []float64
		for _, n := range dropped {
			got = append(got, n.Layout.Seat.X)
		}
		all := slices.Concat(rest, dropped)
		slices.SortFunc(all, func(a, b search.Record) int { return geometry.CompareLayouts(a.Layout, b.Layout) })
		if !slices.Equal(got, c.want) || !slices.Equal(all, list) || rest[0] != list[0] {
			t.Errorf("%v of at most %d: %v dropped, want %v; left %v", c.x, c.most, got, c.want, rest)
		}
	}
}
