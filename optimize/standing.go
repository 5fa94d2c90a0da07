package optimize

import (
	"context"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// Standing is how layouts do if what is not known is drawn again and again.
type Standing struct {
	Draws   int
	Layouts []Stand // as the candidates are ordered
	Now     *Stand  // nil if nothing stands now

	// Interpolated says that the drawn rooms were not solved anew and kept their size, see
	// [Sensitivity]; Wool that wool in them was drawn too.
	Interpolated, Wool bool
}

// Stand is how one layout does over all draws.
type Stand struct {
	First  int // draws in which it has the least spread of the layouts offered
	Better int // draws in which it has less than the present one; 0 if there is none

	Spread Likely // of the worst channel at the main seat, dB
	Lowest Likely // its lowest point, dB re the mean
	Reach  Likely // low-end reach of both together, Hz
}

// Likely is what a figure is below in a tenth, in half and in nine tenths of all
// draws.
type Likely struct{ Low, Middle, High float64 }

// Stay evaluates the candidates of a result, and the present layout, under every
// draw. What counts for being first is the spread, weighted over the seats, each seat
// and mark where the draw puts it; of equals the earlier is first. The engine is
// asked for once a draw, from several goroutines at once, and must answer for the
// room as drawn. It fails if an engine does, and ends early with the context.
func Stay(ctx context.Context, p *model.Project, r *Result, draws []Draw, engine func(Draw) (model.Engine, error)) (*Standing, error) {
	layouts := laidOut(r)
	all := make([][]outcome, len(draws))
	err := parallel(len(draws), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		e, err := engine(draws[i])
		if err != nil {
			return err
		}
		all[i], err = draws[i].outcomes(p, e, layouts)
		return err
	})
	if err != nil {
		return nil, err
	}
	return newStanding(all, len(r.Candidates)), nil
}

// outcome is what one layout gives under one draw.
type outcome struct {
	score                 float64
	spread, lowest, reach float64
}

// outcomes returns what layouts give under the draw, by an engine for it.
func (d Draw) outcomes(p *model.Project, e model.Engine, layouts []model.Layout) ([]outcome, error) {
	size := r3.Add(p.Room.Size, d.Size)
	s := newScorer(e, p.Goal, 0, size)
	share := shares(p)
	list := make([]outcome, len(layouts))
	for i, l := range layouts {
		l = d.layout(l, size)
		pair, err := s.pair(l)
		if err != nil {
			return nil, err
		}
		j := s.reader.Judge(pair)
		spread, err := checked(j.Spread(), l)
		if err != nil {
			return nil, err
		}
		o := outcome{spread: float64(spread), lowest: float64(j.Figures[j.Worst].Lowest.Level), reach: j.Figures[response.BothTogether].Reach}
		o.score = share[0] * o.spread
		for k, seat := range others(p) {
			if share[k+1] == 0 {
				continue
			}
			v, err := s.plainAt(inside(seatPlace(p, seat), size), l)
			if err != nil {
				return nil, err
			}
			o.score += share[k+1] * float64(v)
		}
		list[i] = o
	}
	return list, nil
}

// newStanding counts outcomes by draw and layout; those beyond the candidates are of
// the present layout.
func newStanding(all [][]outcome, candidates int) *Standing {
	s := &Standing{Draws: len(all), Layouts: make([]Stand, candidates)}
	if len(all) == 0 {
		return s
	}
	stands := make([]Stand, len(all[0]))
	for _, draw := range all {
		first := 0
		for i, o := range draw[:candidates] {
			if o.score < draw[first].score {
				first = i
			}
			if len(draw) > candidates && o.score < draw[candidates].score {
				stands[i].Better++
			}
		}
		stands[first].First++
	}
	for i := range stands {
		stands[i].Spread = likely(all, i, func(o outcome) float64 { return o.spread })
		stands[i].Lowest = likely(all, i, func(o outcome) float64 { return o.lowest })
		stands[i].Reach = likely(all, i, func(o outcome) float64 { return o.reach })
	}
	copy(s.Layouts, stands)
	if len(stands) > candidates {
		s.Now = &stands[candidates]
	}
	return s
}

// likely returns the deciles of a figure of layout i: the value that has a tenth, half
// and nine tenths of the others below it, in proportion between two of them.
func likely(all [][]outcome, i int, read func(outcome) float64) Likely {
	values := make([]float64, len(all))
	for k, draw := range all {
		values[k] = read(draw[i])
	}
	slices.Sort(values)
	at := func(share float64) float64 {
		place := share * float64(len(values)-1)
		low := min(int(place), len(values)-1)
		high := min(low+1, len(values)-1)
		return values[low] + (place-float64(low))*(values[high]-values[low])
	}
	return Likely{at(0.1), at(0.5), at(0.9)}
}
