package uncertainty

import (
	"context"
	"math"
	"math/cmplx"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sensitivity knows how the layouts of a result respond to everything uncertain about
// their room. It serves rooms that take too long to be solved for every [Trial]: it solves
// the room once with each wall at its softest and hardest, and with wool of the highest and
// the lowest resistivity, and interpolates every trial between these:
//
//   - Walls and wool change a transfer by the product of what each alone does, in
//     proportion to its size: log p is linear in the trial, to either side. In a dip,
//     where one of them alone changes a transfer by [deepChange] or more, p is linear.
//   - Marks and seats are moved in the typical room, one speaker or the seat at a time,
//     and the changes added up.
//   - Temperature stretches the frequencies by the speed of sound. That is exact except
//     for walls and wool, whose effect shifts by the same one or two per cent.
//
// The room keeps its size. A Sensitivity is safe for use by several goroutines.
type Sensitivity struct {
	project *model.Project
	result  *optimize.Result
	layouts []model.Layout
	near    []model.Engine // by layout
	others  []otherSeat    // seats beside the main one that count
	grid    model.Grid
	info    model.EngineInfo
	changes map[path]*change
}

// otherSeat is a seat beside the main one with its field in the typical room.
type otherSeat struct {
	at    r3.Vec
	field model.Field
}

// path is from a speaker to a seat, as marked.
type path struct{ seat, source r3.Vec }

// change is what each uncertain part of the room does to one path.
type change struct {
	typical []complex128
	ends    [trialParts][2][]complex128 // transfers with one part at -1 and at 1; nil if it changes nothing
}

// deepChange is a change of level in dB that one part alone makes only in a dip: at a
// peak, twice the damping makes 6 dB if one wall provides all of it.
const deepChange = 6

// NewSensitivity prepares the layouts of a result. The engine is the one of the result and
// answers for the typical room, see [model.LayoutEngine]. Rooms returns the engine for a
// trial, of which only walls and wool count. That engine may be a coarse one; it is nil if
// the trial changes nothing. Rooms is called for the zero trial and for two of each part,
// from several goroutines at once. All grids must be the same. An
// error of an engine is returned, and so is that of the context if it ends.
func NewSensitivity(ctx context.Context, p *model.Project, r *optimize.Result, e model.Engine, rooms func(Trial) (model.Engine, error), progress model.Progress) (*Sensitivity, error) {
	s := &Sensitivity{project: p, result: r, layouts: layoutsOf(r), grid: e.Grid(), info: e.Info(), changes: map[path]*change{}}
	if err := s.prepare(ctx, e); err != nil {
		return nil, err
	}
	seats, trials := s.seats(), edgeTrials()
	count := progress.Counter("trying walls and wool", len(trials)*len(seats))
	return s, concurrent.Each(len(trials)+len(s.others), func(i int) error { // one room at a time, so that its runs need not be kept
		if err := ctx.Err(); err != nil {
			return err
		}
		if i >= len(trials) {
			other := &s.others[i-len(trials)]
			var err error
			other.field, err = e.Field(ctx, other.at)
			return err
		}
		room, err := rooms(trials[i])
		if err != nil {
			return err
		}
		return s.solveAll(ctx, room, i, seats, count)
	})
}

// solveAll fills in what one of the edge trials does to all paths to the seats, and counts
// them; a nil room is the typical one.
func (s *Sensitivity) solveAll(ctx context.Context, room model.Engine, trial int, seats []r3.Vec, count func()) error {
	if room != nil && !slices.Equal(room.Grid(), s.grid) {
		panic("uncertainty: the frequencies of a trial's room are not the engine's")
	}
	for _, seat := range seats {
		if err := s.solve(ctx, room, trial, seat); err != nil {
			return err
		}
		count()
	}
	return nil
}

// layoutsOf lists the layouts of a result, the present one last.
func layoutsOf(r *optimize.Result) []model.Layout {
	var list []model.Layout
	for _, c := range r.Candidates {
		list = append(list, c.Layout)
	}
	if r.Now != nil {
		list = append(list, r.Now.Layout)
	}
	return list
}

// edgeTrials returns the zero trial and for each part the two that have it at -1 and at 1.
func edgeTrials() []Trial {
	list := make([]Trial, 1+2*trialParts)
	for part := range trialParts {
		for side := range 2 {
			*list[1+2*part+side].part(part) = 2*float64(side) - 1
		}
	}
	return list
}

// prepare sets up the engines near the layouts, the other seats and the paths.
func (s *Sensitivity) prepare(ctx context.Context, e model.Engine) error {
	share := score.SeatWeights(s.project)
	for _, l := range s.layouts {
		near, err := score.Near(ctx, e, l)
		if err != nil {
			return err
		}
		s.near = append(s.near, near)
		seats := []r3.Vec{l.Seat}
		for k := range score.OtherSeats(s.project) {
			if share[k+1] == 0 {
				continue
			}
			at := geometry.Inside(score.SeatPlace(s.project, k+1, l), s.project.Room.Size)
			seats = append(seats, at)
			if !slices.ContainsFunc(s.others, func(o otherSeat) bool { return o.at == at }) {
				s.others = append(s.others, otherSeat{at: at})
			}
		}
		for _, source := range []r3.Vec{l.Left, l.Right} {
			for _, seat := range seats {
				s.changes[path{seat, source}] = new(change)
			}
		}
	}
	return nil
}

// seats lists the seats at which paths end, in a fixed order.
func (s *Sensitivity) seats() []r3.Vec {
	var list []r3.Vec
	for p := range s.changes {
		if !slices.Contains(list, p.seat) {
			list = append(list, p.seat)
		}
	}
	slices.SortFunc(list, geometry.CompareVec)
	return list
}

// solve fills in what one of the edge trials does to all paths to a seat.
func (s *Sensitivity) solve(ctx context.Context, e model.Engine, trial int, seat r3.Vec) error {
	if e == nil {
		return nil
	}
	field, err := e.Field(ctx, seat)
	if err != nil {
		return err
	}
	for p, c := range s.changes {
		switch {
		case p.seat != seat:
		case trial == 0:
			c.typical = field.Transfer(nil, p.source)
		default:
			c.ends[(trial-1)/2][(trial-1)%2] = field.Transfer(nil, p.source)
		}
	}
	return nil
}

// Rank is [Rank] by interpolation. The rooms keep their size.
func (s *Sensitivity) Rank(ctx context.Context, trials []Trial) (*Stability, error) {
	sized := slices.Clone(trials)
	for i := range sized {
		sized[i].Size = r3.Vec{}
	}
	st, err := Rank(ctx, s.project, s.result, sized, func(d Trial) (model.Engine, error) { return s.Engine(d), nil })
	if err != nil {
		return nil, err
	}
	st.Interpolated, st.Wool = true, s.wool()
	return st, nil
}

// wool reports whether the resistivity of wool changes anything.
func (s *Sensitivity) wool() bool {
	for _, c := range s.changes {
		if ends := c.ends[trialParts-1]; ends[0] != nil || ends[1] != nil {
			return true
		}
	}
	return false
}

// Engine returns the engine of a trial's room. It answers for the layouts as the trial
// moves them, and for the other seats; it panics for any other place. The trial's size does
// not count.
func (s *Sensitivity) Engine(d Trial) model.Engine {
	room := &s.project.Room
	e := &trialEngine{Sensitivity: s, trial: d, air: d.air(room), size: room.Size}
	was := room.Air()
	stretch := e.air.Speed / was.Speed
	e.gain = complex(stretch*e.air.Density/was.Density, 0)
	for _, f := range s.grid {
		e.grid = append(e.grid, f*stretch)
	}
	// A low-end reach below the grid reads as its lowest frequency: the same in all trials.
	e.grid[0] = min(s.grid[0], e.grid[min(1, len(e.grid)-1)])
	for _, l := range s.layouts {
		e.moved = append(e.moved, d.layout(l, e.size))
	}
	return e
}

// add adds to the transfer over a path what walls and wool change in a trial.
func (c *change) add(dst []complex128, d *Trial) {
	for i, p := range c.typical {
		var sum, product complex128
		deep := false
		for part := range trialParts {
			v := *d.part(part)
			side := 0
			if v > 0 {
				side = 1
			}
			end := c.ends[part][side]
			if v == 0 || end == nil {
				continue
			}
			ratio := end[i] / p
			if !(math.Abs(20*math.Log10(cmplx.Abs(ratio))) < deepChange) {
				deep = true
			}
			sum += (end[i] - p) * complex(math.Abs(v), 0)
			product += cmplx.Log(ratio) * complex(math.Abs(v), 0)
		}
		if !deep {
			sum = p * (cmplx.Exp(product) - 1)
		}
		dst[i] += sum
	}
}
