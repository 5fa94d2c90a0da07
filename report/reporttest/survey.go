package reporttest

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/floormap"
	"evenbass/optimize/score"
)

// Survey is a survey of the room with a layout, its figures from simple curves over the
// floor: no room is like that.
func Survey(p *model.Project, l model.Layout) *floormap.Survey {
	floor := floormap.Floor{Height: l.Seat.Z}
	for i := range 43 {
		floor.X = append(floor.X, 0.05+0.1*float64(i))
	}
	for i := range 33 {
		floor.Y = append(floor.Y, 0.05+0.1*float64(i))
	}
	return SurveyOver(p, l, floor, model.Grid{30, 41.8, 52, 79.6, 120, 200, 300})
}

// SurveyOver is a survey of a floor and frequencies of any number.
func SurveyOver(p *model.Project, l model.Layout, floor floormap.Floor, grid model.Grid) *floormap.Survey {
	s := &floormap.Survey{
		Layout: l, HasSeat: true, Here: spread(l.Seat), Frequencies: model.Grid{41.8, 79.6, 52},
		Chair: spreads(p, floor, l, floormap.Chair),
		Around: []floormap.Spread{
			spreads(p, about(l.Seat), l, floormap.Chair),
			spreads(p, about(l.Left), l, floormap.Pair),
		},
	}
	s.Levels = floormap.Levels{Floor: floor, Goal: p.Goal, Grid: grid}
	for _, c := range response.Channels {
		for i := range grid {
			s.Levels.Means[c] = append(s.Levels.Means[c], model.Level(1.5*float64(i-4)))
		}
	}
	for n := range floor.Len() {
		for _, f := range s.Levels.Grid {
			at := floor.Place(n)
			level := math.NaN()
			if s.Chair.Open(n) {
				level = 20*math.Log10(0.05+math.Abs(math.Cos(2*math.Pi*f/343*at.X)*math.Cos(math.Pi*f/343*at.Y))) + 4
			}
			for _, c := range response.Channels {
				s.Levels.Levels[c] = append(s.Levels.Levels[c], model.Level(level-float64(c)))
			}
		}
	}
	return s
}

func about(v r3.Vec) floormap.Floor {
	f := floormap.Floor{Height: v.Z}
	for i := -6; i <= 6; i++ {
		f.X, f.Y = append(f.X, v.X+0.05*float64(i)), append(f.Y, v.Y+0.05*float64(i))
	}
	return f
}

// spread is least 1.45 m from the front wall on the mid-line.
func spread(v r3.Vec) model.Level {
	return model.Level(6 + 3*math.Abs(v.X-1.45) + 4*math.Pow(v.Y-1.65, 2))
}

func spreads(p *model.Project, f floormap.Floor, l model.Layout, moved floormap.Moved) floormap.Spread {
	m := floormap.Spread{Floor: f, Moved: moved, Goal: p.Goal}
	for n := range f.Len() {
		v, rule, spread := f.Place(n), model.Rule{}, spread(f.Place(n))
		switch {
		case p.Room.Blocks[0].Contains(v) || v.X < 0 || v.Y < 0:
			spread = model.Level(math.NaN())
		case v.X < 0.9:
			rule.Kind = model.SeatAhead
		case v.X > 3.7:
			rule.Kind = model.SeatBackWall
		}
		m.Spread, m.Rule = append(m.Spread, spread), append(m.Rule, rule)
	}
	return m
}

// Dips returns the three worst dips of a layout; the first has a suspect, and its frequency shifts with the seat.
func Dips(grid model.Grid, p *model.Project, c *score.Candidate, suspect cause.Suspect) []cause.Dip {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	var faults []cause.Dip
	for _, f := range reader.Features(c.Judgement.Worst, c.Pair.Of(c.Judgement.Worst), 3) {
		if f.Peak || len(faults) == 3 {
			continue
		}
		fault := cause.Dip{Feature: f}
		if len(faults) == 0 {
			fault.Causes = []cause.Cause{{Suspect: suspect, Cure: 7.25}, {Suspect: cause.Suspect{Boundary: model.Floor}, Cure: 4.1}}
			fault.Moves = cause.MovesWithSeat
		}
		faults = append(faults, fault)
	}
	return faults
}
