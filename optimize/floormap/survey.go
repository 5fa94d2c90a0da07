package floormap

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// Survey holds maps of the floor for one layout.
type Survey struct {
	Layout  model.Layout
	HasSeat bool        // the layout came with a seat; else its seat is the best place of the map
	Here    model.Level // plain spread of the layout

	// Cards are those of the layout and, if the rules allow the chair anywhere, of the place of least spread.
	// Where that place impairs the band or is off balance, a third is that of a place that gains without either.
	Cards []score.Candidate

	Frequencies model.Grid // frequencies worth a look, Hz: those requested, or the deepest dips and the strongest peak at the seat

	Chair  Spread // for the chair over the whole floor
	Levels Levels // at those frequencies and two dozen more

	// Around holds maps of the chair, then of the speakers, within [Reach]: of the
	// mirrored pair, or of each speaker by itself if they are free.
	Around []Spread
}

// Settings controls a survey. The zero value is a good choice.
type Settings struct {
	Pitch       float64    // pitch of the lattice over the floor, m; 0 is 0.1 m, more in a large room
	Frequencies model.Grid // frequencies requested, Hz
	Progress    model.Progress
}

const (
	usualPitch = 0.10 // m
	mostPlaces = 2100 // of a lattice whose pitch is not given
	finePitch  = 0.05 // of the lattices around marks, m
)

// Reach is how far a survey moves marks from their places along x and y, m.
const Reach = 0.30

// New maps the floor for a layout: where else the chair could go, how loud it is
// where, and how far the marks may be off. It asks the engine for three fields: those of
// the left speaker, the right speaker and the seat. By reciprocity the first two answer for
// every place of the chair. The engine must answer for the whole floor at the height of the
// ears, and for Reach around the speakers. If the layout has no seat (seated is
// false), its seat only gives the height of the ears, and the best allowed place of the map
// becomes the seat.
//
// It fails if a speaker is not in the room's air, a requested frequency is outside the
// engine's grid, the goal is not within that grid, or the engine refuses a place.
func New(ctx context.Context, p *model.Project, e model.Engine, l model.Layout, seated bool, s Settings) (*Survey, error) {
	if _, err := score.NewBand(e, p.Goal); err != nil {
		return nil, err
	}
	grid := e.Grid()
	for _, f := range s.Frequencies {
		if !(f >= grid[0] && f <= grid[len(grid)-1]) {
			return nil, fmt.Errorf("there is no map at %.4g Hz: the engine answers from %.4g to %.4g Hz", f, grid[0], grid[len(grid)-1])
		}
	}
	for _, m := range []struct {
		name string
		at   r3.Vec
	}{{"left", l.Left}, {"right", l.Right}} {
		if !InAir(&p.Room, m.at) {
			return nil, fmt.Errorf("the %s speaker at %.2f, %.2f, %.2f m is not in the room's air", m.name, m.at.X, m.at.Y, m.at.Z)
		}
	}
	v := &surveyor{ctx: ctx, project: p, engine: e, reader: score.NewReader(e, p)}
	return v.survey(l, seated, s)
}

// surveyor holds what the parts of one survey share.
type surveyor struct {
	ctx     context.Context
	project *model.Project
	engine  model.Engine
	reader  *response.Reader
	pair    [2]model.Field // of the speakers
}

func (v *surveyor) survey(l model.Layout, seated bool, s Settings) (*Survey, error) {
	// The parts are the speakers' fields, the chair over the floor, levels and surroundings.
	next := s.Progress.Counter("mapping the floor", 4)
	var err error
	if v.pair, err = v.fields(l.Left, l.Right); err != nil {
		return nil, err
	}
	next()
	size := v.project.Room.Size
	if s.Pitch <= 0 {
		s.Pitch = max(usualPitch, math.Sqrt(size.X*size.Y/mostPlaces))
	}
	out := &Survey{Layout: l, HasSeat: seated}
	floor := newFloor(size, l.Seat.Z, s.Pitch)
	pairs, err := v.pairs(floor)
	if err != nil {
		return nil, err
	}
	spreads, curves, err := v.evaluate(pairs)
	if err != nil {
		return nil, err
	}
	out.Chair = v.chairMap(floor, spreads, l)
	next()
	if !seated {
		best, ok := out.Chair.Best(out.Chair.Allowed)
		if !ok {
			return nil, fmt.Errorf("the rules of the room file leave no place for the chair with the speakers where they are")
		}
		out.Layout.Seat = out.Chair.Place(best)
	}
	if !InAir(&v.project.Room, out.Layout.Seat) {
		return nil, fmt.Errorf("the seat at %.2f, %.2f, %.2f m is not in the room's air", l.Seat.X, l.Seat.Y, l.Seat.Z)
	}
	pair := v.transfers(out.Layout.Seat)
	out.Here = v.reader.Spread(pair, new(response.Scratch))
	out.Cards = []score.Candidate{v.candidate(out.Layout)}
	for _, n := range v.worthACard(&out.Chair, pairs, out.Layout, out.Cards[0].Card.Card) {
		moved := out.Layout
		moved.Seat = out.Chair.Place(n)
		out.Cards = append(out.Cards, v.candidate(moved))
	}
	if out.Frequencies = s.Frequencies; len(s.Frequencies) == 0 {
		out.Frequencies = revealing(v.reader, pair.Of(response.BothTogether))
	}
	out.Levels = v.levelMap(floor, curves, out.Frequencies)
	next()
	if out.Around, err = v.Displaced(out.Layout); err == nil {
		next()
	}
	return out, err
}

// candidate returns a layout with its card.
func (v *surveyor) candidate(l model.Layout) score.Candidate {
	pair := v.transfers(l.Seat)
	c := score.Candidate{Layout: l, Pair: pair, Judgement: v.reader.Judge(pair)}
	c.Card.Card = v.reader.Card(pair, nil)
	return c
}

// fields returns the fields of at most two places, computed in parallel.
func (v *surveyor) fields(places ...r3.Vec) (fields [2]model.Field, err error) {
	err = concurrent.Each(len(places), func(i int) error {
		if err := v.ctx.Err(); err != nil {
			return err
		}
		var err error
		fields[i], err = v.engine.Field(v.ctx, places[i])
		return err
	})
	return fields, err
}

// transfers returns the transfers of the pair to a place.
func (v *surveyor) transfers(place r3.Vec) response.Pair {
	return response.Pair{Left: v.pair[0].Transfer(nil, place), Right: v.pair[1].Transfer(nil, place)}
}

// curves is the smoothed level of each channel at every place, dB, over the engine's grid;
// nil outside the air.
type curves [][3][]model.Level

// evaluate returns the spread and the curves of a floor's pairs.
func (v *surveyor) evaluate(pairs []response.Pair) ([]model.Level, curves, error) {
	spreads, levels := make([]model.Level, len(pairs)), make(curves, len(pairs))
	err := concurrent.Each(len(pairs), func(n int) error {
		spreads[n] = model.Level(math.NaN())
		if pairs[n].Left == nil {
			return v.ctx.Err()
		}
		if s := v.reader.Spread(pairs[n], new(response.Scratch)); !math.IsInf(float64(s), 0) {
			spreads[n] = s
		}
		for _, c := range response.Channels {
			levels[n][c] = v.reader.Smooth(pairs[n].Of(c))
		}
		return v.ctx.Err()
	})
	return spreads, levels, err
}

// pairs returns the transfers of the pair to each place of a floor; nil outside the air.
func (v *surveyor) pairs(f Floor) ([]response.Pair, error) {
	whole, err := v.gridTransfers(f)
	if err != nil {
		return nil, err
	}
	pairs := make([]response.Pair, f.Len())
	grid := len(v.engine.Grid())
	return pairs, concurrent.Each(f.Len(), func(n int) error {
		place := f.Place(n)
		switch {
		case !InAir(&v.project.Room, place):
		case whole[0] != nil && whole[1] != nil:
			pairs[n] = response.Pair{Left: whole[0][n*grid : (n+1)*grid], Right: whole[1][n*grid : (n+1)*grid]}
		default:
			pairs[n] = v.transfers(place)
		}
		return v.ctx.Err()
	})
}

// rowsAtOnce is how many rows of a floor are computed at a time: enough to share set-up
// costs, few enough that a stopped survey ends soon.
const rowsAtOnce = 8

// gridTransfers returns the transfers of each speaker to a whole floor. They are nil if the
// field has no fast way for a grid, or if part of the floor is outside the room.
func (v *surveyor) gridTransfers(f Floor) (whole [2][]complex128, err error) {
	room := model.Box{Size: v.project.Room.Size}
	if !room.Contains(f.Place(0)) || !room.Contains(f.Place(f.Len()-1)) {
		return whole, nil
	}
	row := len(f.Y) * len(v.engine.Grid())
	for i, field := range v.pair {
		g, ok := field.(model.GridField)
		if !ok {
			continue
		}
		whole[i] = make([]complex128, len(f.X)*row)
		err = concurrent.Each((len(f.X)+rowsAtOnce-1)/rowsAtOnce, func(n int) error {
			if err := v.ctx.Err(); err != nil {
				return err
			}
			from, to := n*rowsAtOnce, min((n+1)*rowsAtOnce, len(f.X))
			g.TransferGrid(whole[i][from*row:to*row], f.X[from:to], f.Y, []float64{f.Height})
			return nil
		})
		if err != nil {
			return whole, err
		}
	}
	return whole, nil
}

// chairMap makes a map of the spreads found for the chair.
func (v *surveyor) chairMap(f Floor, spreads []model.Level, l model.Layout) Spread {
	m := Spread{Floor: f, Moved: Chair, Goal: v.project.Goal, Spread: spreads}
	m.findRules(v.project, func(n int) model.Layout {
		moved := l
		moved.Seat = f.Place(n)
		return moved
	})
	return m
}

// levelMap picks from the curves what a map shows.
func (v *surveyor) levelMap(f Floor, levels curves, wanted model.Grid) Levels {
	m := Levels{Floor: f, Goal: v.project.Goal, Grid: mapGrid(v.engine.Grid(), v.project.Goal, wanted)}
	var at []int
	for _, frequency := range m.Grid {
		at = append(at, v.engine.Grid().Nearest(frequency))
	}
	for _, c := range response.Channels {
		whole := levels.mean(c, v.engine.Grid(), m.Goal)
		for _, i := range at {
			m.Means[c] = append(m.Means[c], levels.meanAt(c, i)-whole)
		}
		for n := range levels {
			for k, i := range at {
				level := model.Level(math.NaN())
				if curve := levels[n][c]; curve != nil {
					level = curve[i] - whole - m.Means[c][k]
				}
				m.Levels[c] = append(m.Levels[c], level)
			}
		}
	}
	return m
}

// mean returns the power mean of a channel over lg f within the goal's band and over
// all places, dB.
func (h curves) mean(c response.Channel, grid model.Grid, goal model.Goal) model.Level {
	var sum, weight float64
	for i := 1; i+1 < len(grid); i++ {
		if grid[i] < goal.From*(1-1e-12) || grid[i] > goal.To*(1+1e-12) {
			continue
		}
		share := math.Log(grid[i+1] / grid[i-1])
		sum += share * h.meanAt(c, i).Power()
		weight += share
	}
	return model.PowerLevel(sum / weight)
}

// meanAt returns the power mean of a channel at frequency i over all places, dB.
func (h curves) meanAt(c response.Channel, i int) model.Level {
	var sum, count float64
	for n := range h {
		if curve := h[n][c]; curve != nil {
			sum += curve[i].Power()
			count++
		}
	}
	return model.PowerLevel(sum / count)
}
