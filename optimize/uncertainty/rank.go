package uncertainty

import (
	"context"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// Stability says how the layouts of a result rank over many trials.
type Stability struct {
	Trials  int
	Layouts []Outcome // as the candidates are ordered
	Now     *Outcome  // of the present layout; nil if there is none

	// Cards holds the card of the main seat, without a fall, of each layout in each trial: the
	// layouts in their order, then the present one if there is one.
	Cards [][]response.Card

	// Ranges holds, over Grid, what the smoothed levels of each layout stay within in eight
	// tenths of the trials, by channel: the layouts in their order, then the present one.
	Grid   model.Grid
	Ranges [][3]LevelRange

	// Interpolated says that the trials' rooms were not solved anew and kept their size,
	// see [Sensitivity]; Wool that wool in them varied too.
	Interpolated, Wool bool
}

// Outcome says how one layout does over all trials.
type Outcome struct {
	First  int // trials in which it has the least spread of the layouts offered
	Better int // trials in which it has less than the present layout; 0 if there is none

	Spread Interval // of the worst channel at the main seat, dB
	Lowest Interval // its lowest point, dB re the mean
	Reach  Interval // low-end reach of both together, Hz
}

// Interval holds what a figure stays below in a tenth, in half and in nine tenths of all
// trials.
type Interval struct{ Low, Median, High float64 }

// Rank evaluates the candidates of a result, and the present layout, in every trial. The
// first of a trial is the layout of least spread, weighted over the seats, each seat and
// mark where the trial puts it; of equals the earlier one. Engine is called once a trial,
// from several goroutines at once, and must answer for the trial's room. An error of an
// engine is returned, and so is that of the context if it ends.
func Rank(ctx context.Context, p *model.Project, r *optimize.Result, trials []Trial, engine func(Trial) (model.Engine, error)) (*Stability, error) {
	layouts := layoutsOf(r)
	all := make([][]reading, len(trials))
	err := concurrent.Each(len(trials), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		e, err := engine(trials[i])
		if err != nil {
			return err
		}
		all[i], err = trials[i].readings(ctx, p, e, layouts)
		return err
	})
	if err != nil {
		return nil, err
	}
	return count(all, len(r.Candidates)), nil
}

// reading is what one layout gives in one trial.
type reading struct {
	score                 float64
	spread, lowest, reach float64
	card                  response.Card
	levels                [3][]float64 // by channel, over rangeGrid, dB re the band's mean
}

// readings returns what layouts give in the trial, by an engine for its room.
func (d Trial) readings(ctx context.Context, p *model.Project, e model.Engine, layouts []model.Layout) ([]reading, error) {
	size := r3.Add(p.Room.TrueSize(), d.Size)
	s := score.NewScorer(e, p, 0)
	share := score.SeatWeights(p)
	list := make([]reading, len(layouts))
	for i, marked := range layouts {
		l := d.layout(marked, size)
		pair, err := s.Pair(ctx, l)
		if err != nil {
			return nil, err
		}
		j := s.Reader.Judge(pair)
		spread, err := score.Finite(j.Spread(), l)
		if err != nil {
			return nil, err
		}
		o := reading{spread: float64(spread), lowest: float64(j.Figures[j.Worst].Lowest.Level), reach: j.Figures[response.BothTogether].Reach, card: s.Reader.Card(pair, nil)}
		for c := range j.Curves {
			o.levels[c] = rangeLevels(e.Grid(), j.Curves[c], j.Figures[c].Mean)
		}
		o.score = share[0] * o.spread
		for k := range score.OtherSeats(p) {
			if share[k+1] == 0 {
				continue
			}
			v, err := s.PlainAt(ctx, geometry.Inside(score.SeatPlace(p, k+1, marked), size), l)
			if err != nil {
				return nil, err
			}
			o.score += share[k+1] * float64(v)
		}
		list[i] = o
	}
	return list, nil
}

// count turns readings, by trial and layout, into outcomes. Readings beyond the candidates
// are of the present layout.
func count(all [][]reading, candidates int) *Stability {
	s := &Stability{Trials: len(all), Layouts: make([]Outcome, candidates)}
	if len(all) == 0 {
		return s
	}
	outcomes := make([]Outcome, len(all[0]))
	s.Cards = make([][]response.Card, len(all[0]))
	for _, trial := range all {
		first := 0
		for i, o := range trial[:candidates] {
			if o.score < trial[first].score {
				first = i
			}
			if len(trial) > candidates && o.score < trial[candidates].score {
				outcomes[i].Better++
			}
		}
		outcomes[first].First++
	}
	for i := range outcomes {
		for _, trial := range all {
			s.Cards[i] = append(s.Cards[i], trial[i].card)
		}
		outcomes[i].Spread = interval(all, i, func(o reading) float64 { return o.spread })
		outcomes[i].Lowest = interval(all, i, func(o reading) float64 { return o.lowest })
		outcomes[i].Reach = interval(all, i, func(o reading) float64 { return o.reach })
	}
	s.setRanges(all)
	copy(s.Layouts, outcomes)
	if len(outcomes) > candidates {
		s.Now = &outcomes[candidates]
	}
	return s
}

// interval returns a figure of layout i that a tenth, half and nine tenths of its readings
// stay below, interpolated between two of them.
func interval(all [][]reading, i int, read func(reading) float64) Interval {
	values := make([]float64, len(all))
	for k, trial := range all {
		values[k] = read(trial[i])
	}
	slices.Sort(values)
	at := func(share float64) float64 {
		place := share * float64(len(values)-1)
		low := min(int(place), len(values)-1)
		high := min(low+1, len(values)-1)
		return values[low] + (place-float64(low))*(values[high]-values[low])
	}
	return Interval{at(0.1), at(0.5), at(0.9)}
}
