package optimize

import (
	"context"
	"testing"
	"time"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/trust"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// exhaust scores every legal layout of a mirrored pair on a lattice of the given
// pitch in m and returns the best with the number of layouts.
func exhaust(t testing.TB, pr *search.Problem, rate func(context.Context, model.Layout) (model.Level, error), pitch float64) (best search.Record, count int) {
	var all []model.Layout
	pairs, seats := geometry.HullOf([]geometry.Area{pr.PairAreas[0].Left}), geometry.HullOf(pr.Seats)
	for s := seats.X.Lo; s <= seats.X.Hi+1e-9; s += pitch { // outermost: a seat's field is read off the table once
		for x := pairs.X.Lo; x <= pairs.X.Hi+1e-9; x += pitch {
			for y := pairs.Y.Lo; y <= pairs.Y.Hi+1e-9; y += pitch {
				for _, h := range pr.Heights {
					var l model.Layout
					l.Left.X, l.Left.Y = geometry.Round(x), geometry.Round(y)
					l.Right.X, l.Right.Y = l.Left.X, geometry.Round(2*pr.Middle-l.Left.Y)
					l.Seat.X, l.Seat.Y, l.Seat.Z = geometry.Round(s), pr.Middle, geometry.Round(pr.Ears)
					l = atHeight(pr.Project, l, h)
					if pr.Project.Violation(l) == 0 {
						all = append(all, l)
					}
				}
			}
		}
	}
	notes := make([]search.Record, len(all))
	err := concurrent.Each(len(all), func(i int) error {
		v, err := rate(t.Context(), all[i])
		notes[i] = search.Record{Layout: all[i], Score: float64(v)}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return search.BestApart(notes, 1, 0)[0], len(all)
}

// atHeight returns a layout with its acoustic axis at a height, m.
func atHeight(p *model.Project, l model.Layout, axis float64) model.Layout {
	z := geometry.Round(axis - p.Speakers.WooferBelow)
	l.AxisHeight, l.Left.Z, l.Right.Z = axis, z, z
	return l
}

// The search comes within 0.1 dB of the best of all layouts on a 5 cm lattice:
// with three seeds in the studio here; in the long form with twenty, nineteen of
// which must, and in the demo room by its own engine as well.
func TestPlaceAgainstExhaustive(t *testing.T) {
	t.Parallel()
	pr, _, table := tableOf(t, studio())
	if !long() {
		against(t, pr, table, 3, 0)
		return
	}
	const seeds, may = 20, 1
	trust.Seen(t, "the search", nearBestWords, nearBest, may, seeds)
	against(t, pr, table, seeds, may)
	pr, _, table = setUp(t)
	against(t, pr, table, seeds, may)
}

// How near to the best of all layouts every search but a few must come, dB, and what README says of it.
const (
	nearBest      = 0.1
	nearBestWords = "%g dB off the best of them at most, but for %d of %d seeds, which the test demands"
)

// against searches with several seeds, of which some may miss the best.
func against(t *testing.T, pr *search.Problem, e model.Engine, seeds, may int) {
	rate := score.NewScorer(e, pr.Project, 0.05).Robust
	start := time.Now()
	best, count := exhaust(t, pr, rate, 0.05)
	t.Logf("best of %d on 5 cm: %.3f dB in %v at %+v", count, best.Score, time.Since(start), best.Layout)
	missed := 0
	for seed := range seeds {
		start, r := time.Now(), &Result{}
		h := &placing{Problem: pr, settings: Settings{Seed: int64(seed)}.withDefaults(), result: r}
		found, err := h.breedAndPolish(context.Background(), context.Background(), search.NewArchive(pr.Project, rate))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("seed %d: %.3f dB in %v after %d layouts, %v", seed, found[0].Score, time.Since(start), r.Evaluations, r.Stopped)
		if found[0].Score > best.Score+nearBest {
			missed++
		}
	}
	if missed > may {
		t.Errorf("%d of %d seeds are more than 0.1 dB off", missed, seeds)
	}
}
