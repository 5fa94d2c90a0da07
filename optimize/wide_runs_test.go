package optimize

import (
	"context"
	"math"
	"math/rand"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/wave"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
)

// coarseness is what a wide search may save on: its cells and the length of its runs, and how fine its table is.
type coarseness struct {
	runs      wave.Settings
	tolerance float64
}

// usual is what the command takes.
var usual = coarseness{wideRun, table.WideTolerance}

// rater scores layouts.
type rater func(context.Context, model.Layout) (model.Level, error)

// comparison holds layouts of one room, drawn with a seed, to the usual cells.
type comparison struct {
	*search.Problem
	room    *counted // of the usual cells
	layouts []model.Layout
	exact   []float64 // their robust spreads by the usual cells, dB
}

// tableOver fills a table of a project's room and returns the robust spread off it.
func tableOver(b *search.Problem, t *testing.T, room *counted, f table.Fineness) rater {
	t.Helper()
	p, shift := b.Project, Settings{}.withDefaults().Displacement
	e, err := score.NewBand(room, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	filled := table.New(e, b.Domain(shift, score.LeanDistance), f)
	if err := filled.Fill(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	return score.NewScorer(filled, p, shift).Robust
}

// newComparison draws layouts from all that are legal and rates them by the usual cells.
// To do that with a run for each were hours: they are read off a table that a few
// layouts' own runs, which [checkRuns] makes, hold to be as good.
func newComparison(t *testing.T, p *model.Project, layouts int) *comparison {
	t.Helper()
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	c := &comparison{Problem: pr, room: waveRoom(t, p, wave.Settings{})}
	draw := rand.New(rand.NewSource(1)).Float64
	for range layouts {
		c.layouts = append(c.layouts, legalAtRandom(pr, draw))
	}
	c.exact = c.rated(t, tableOver(pr, t, c.room, table.Fineness{Grid: 1e-3, Side: 5e-3}))
	return c
}

// rated returns the scores of all layouts.
func (c *comparison) rated(t *testing.T, rate rater) []float64 {
	t.Helper()
	scores := make([]float64, len(c.layouts))
	err := concurrent.Each(len(scores), func(i int) error {
		v, err := rate(t.Context(), c.layouts[i])
		scores[i] = float64(v)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return scores
}

// checkRuns holds the exact scores of the first n layouts to the runs of each: one from
// the seat and one from each speaker, which by reciprocity answers for the displaced heads.
func (c *comparison) checkRuns(t *testing.T, n int, most float64) {
	t.Helper()
	p, worst := c.Project, 0.0
	e, err := score.NewBand(c.room.Engine, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range c.layouts[:n] {
		near, err := e.Near(t.Context(), l, p)
		if err != nil {
			t.Fatal(err)
		}
		v, err := score.NewScorer(near, p, Settings{}.withDefaults().Displacement).Robust(t.Context(), l)
		if err != nil {
			t.Fatal(err)
		}
		worst = max(worst, math.Abs(float64(v)-c.exact[i]))
	}
	t.Logf("the exact table is at most %.4f dB off the runs of %d layouts", worst, n)
	if worst > most {
		t.Errorf("the exact table is %.4f dB off, at most %.4f dB are allowed", worst, most)
	}
}

// agree compares the exact ratings of the layouts with cheap ones.
func (c *comparison) agree(cheap []float64) agreement {
	exact := c.exact
	var a agreement
	for i := range exact {
		d := cheap[i] - exact[i]
		a.bias += d / float64(len(exact))
		a.rms += d * d / float64(len(exact))
		a.worst = max(a.worst, math.Abs(d))
	}
	a.rms, a.rank = math.Sqrt(a.rms), spearman(cheap, exact)
	for i := range len(exact) / drawn {
		part := func(v []float64) []float64 { return v[i*drawn : (i+1)*drawn] }
		a.regret = max(a.regret, regret(part(cheap), part(exact), handed))
		a.first = max(a.first, regret(part(cheap), part(exact), 1))
		a.place = max(a.place, 1+slices.Index(order(part(cheap)), order(part(exact))[0]))
	}
	a.apart = c.least(c.niches(cheap)) - slices.Min(exact)
	return a
}

// niches returns the layouts that are rated best and lie as far apart as a search hands
// them on.
func (c *comparison) niches(cheap []float64) []search.Record {
	notes := make([]search.Record, len(cheap))
	for i, v := range cheap {
		notes[i] = search.Record{Layout: c.layouts[i], Score: v}
	}
	return search.BestApart(notes, handed, Settings{}.withDefaults().Apart)
}

// least returns the best exact rating of layouts.
func (c *comparison) least(notes []search.Record) float64 {
	best := math.Inf(1)
	for _, n := range notes {
		best = min(best, c.exact[slices.Index(c.layouts, n.Layout)])
	}
	return best
}

// In four rooms, layouts are rated by what a wide search reads them off (coarse cells, runs
// that end early, a coarse table) and by the usual cells. The error and what is missing of
// full rank correlation may be one and a half times what was measured; the
// best eight must hold one within 0.1 dB of the best of all. The table's own part is
// bounded by one over the usual cells. Its worst case in the L-room is a layout of ±29 dB: a
// deep dip rules the spread of the worst lean, which has three tenths of the weight. No search
// ends there. What other coarseness costs is logged.
func TestWideTableAgainstRuns(t *testing.T) {
	if !long() {
		t.Skip("takes minutes: EVENBASS_LONG=1")
	}
	for _, c := range []struct {
		name         string
		search, part agreement // as measured: of the wide search, and the table's own part
	}{
		{"treated-room", agreement{rms: 0.19, worst: 0.85, rank: 0.9977}, agreement{rms: 0.005, worst: 0.04, rank: 0.9999}},
		{"l-room", agreement{rms: 0.085, worst: 0.46, rank: 0.9996}, agreement{rms: 0.012, worst: 0.16, rank: 0.9999}},
		{"sloped-attic", agreement{rms: 0.017, worst: 0.11, rank: 0.9999}, agreement{rms: 0.008, worst: 0.09, rank: 0.9999}},
		{"eaves-room", agreement{rms: 0.16, worst: 0.71, rank: 0.9968}, agreement{rms: 0.008, worst: 0.08, rank: 0.9999}},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := newComparison(t, readProject(t, c.name), 20*drawn)
			all.checkRuns(t, 4, 0.005)
			all.bySearch(t, usual).within(t, c.search)
			all.bySearch(t, coarseness{wave.Settings{Cell: wave.DefaultCell}, usual.tolerance}).within(t, c.part)
			for _, v := range []coarseness{
				{usual.runs, usual.tolerance / 3},
				{usual.runs, usual.tolerance * 3},
				{wave.Settings{Cell: wideRun.Cell}, usual.tolerance},
			} {
				all.bySearch(t, v)
			}
		})
	}
}

// bySearch compares what a search so coarse reads its layouts off.
func (c *comparison) bySearch(t *testing.T, v coarseness) agreement {
	t.Helper()
	room := waveRoom(t, c.Project, v.runs)
	a := c.agree(c.rated(t, tableOver(c.Problem, t, room, table.WideFineness(v.tolerance))))
	t.Logf("%.3f m, levels to %v dB, %.3f: %d fields; %.3f dB rms, %.2f worst, %+.3f bias; ranks %.5f, the best at most number %d; regret %.2f dB of 8, %.2f of 1, %.2f of 8 apart",
		v.runs.Cell, float64(v.runs.Convergence.Tolerance), v.tolerance, room.fields.Load(), a.rms, a.worst, a.bias, a.rank, a.place, a.regret, a.first, a.apart)
	return a
}
