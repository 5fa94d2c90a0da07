package optimize

import (
	"context"
	"math"
	"math/cmplx"
	"slices"
	"sync"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// Sensitivity knows what the layouts of a result hear if what is not known of their room
// is otherwise, for rooms that take too long to be solved for every [Draw]. It asks once for
// the room with each wall as soft and as hard as is likely, and with wool of the highest and
// the lowest resistivity, and makes of these what any draw gives:
//
//   - Walls and wool change the transfer by the product of what each alone does,
//     in proportion to how far it goes: log p is linear in the draw, to either side. In a
//     dip, where one of them alone changes a transfer by [deepChange] and more, p is linear.
//   - Marks and heads are moved in the room as it is typically, one speaker or the head at a
//     time, and the changes added up.
//   - A temperature stretches the frequencies by the speed of sound. That is exact
//     but for what walls and wool do within the percent by which it moves them.
//
// The room keeps its size. It is safe for use by several goroutines.
type Sensitivity struct {
	project *model.Project
	result  *Result
	layouts []model.Layout
	near    []model.Engine // by layout
	heads   []head         // seats beside the main one that count
	grid    model.Grid
	changes map[path]*change
}

// head is a seat beside the main one with its field in the typical room.
type head struct {
	at    r3.Vec
	field model.Field
}

// path is from a speaker to a head, as marked.
type path struct{ seat, source r3.Vec }

// change is what each part of the room does to one path.
type change struct {
	typical []complex128
	ends    [drawnParts][2][]complex128 // transfers with one part at -1 and at 1; nil where it changes nothing
}

// deepChange is the level in dB by which one part alone changes a transfer only in a dip:
// at a peak, twice the damping makes 6 dB if one wall makes all of it.
const deepChange = 6

// NewSensitivity prepares the layouts of a result. The engine is that of the result, and
// answers for the room as it is typically, see [model.LayoutEngine]. For the changes by walls
// and wool, rooms returns an engine of the room by a draw, of which only walls and wool
// count; it may be a coarse one, and nil if the draw changes nothing. It is asked for the
// zero draw and for two of each part, from several goroutines at once. All grids must be
// the same. Progress may be nil. It fails if an engine does, and ends early with the context.
func NewSensitivity(ctx context.Context, p *model.Project, r *Result, e model.Engine, rooms func(Draw) (model.Engine, error), progress func(done, total int)) (*Sensitivity, error) {
	s := &Sensitivity{project: p, result: r, layouts: laidOut(r), grid: e.Grid(), changes: map[path]*change{}}
	if err := s.fillSeats(e); err != nil {
		return nil, err
	}
	seats, draws := s.seats(), edgeDraws()
	count := counter(len(draws)*len(seats), progress)
	return s, parallel(len(draws)+len(s.heads), func(i int) error { // a room at a time, so that its runs need not be kept
		if err := ctx.Err(); err != nil {
			return err
		}
		if i >= len(draws) {
			head := &s.heads[i-len(draws)]
			var err error
			head.field, err = e.Field(head.at)
			return err
		}
		room, err := rooms(draws[i])
		if err != nil {
			return err
		}
		return s.hearAll(room, i, seats, count)
	})
}

// hearAll fills in what one of the edge draws does to all paths to the seats, and counts
// them; a nil room is as it is typically.
func (s *Sensitivity) hearAll(room model.Engine, draw int, seats []r3.Vec, count func()) error {
	if room != nil && !slices.Equal(room.Grid(), s.grid) {
		panic("optimize: a drawn room's frequencies are not the engine's")
	}
	for _, seat := range seats {
		if err := s.hear(room, draw, seat); err != nil {
			return err
		}
		count()
	}
	return nil
}

// laidOut lists the layouts of a result, the present one last.
func laidOut(r *Result) []model.Layout {
	var list []model.Layout
	for _, c := range r.Candidates {
		list = append(list, c.Layout)
	}
	if r.Now != nil {
		list = append(list, r.Now.Layout)
	}
	return list
}

// edgeDraws returns the zero draw and for each part the two that have it at -1 and at 1.
func edgeDraws() []Draw {
	list := make([]Draw, 1+2*drawnParts)
	for part := range drawnParts {
		for side := range 2 {
			*list[1+2*part+side].part(part) = 2*float64(side) - 1
		}
	}
	return list
}

// fillSeats prepares the engines near the layouts, the other heads and the paths.
func (s *Sensitivity) fillSeats(e model.Engine) error {
	share := shares(s.project)
	for k, seat := range others(s.project) {
		if share[k+1] == 0 {
			continue
		}
		s.heads = append(s.heads, head{at: inside(seatPlace(s.project, seat), s.project.Room.Size)})
	}
	for _, l := range s.layouts {
		near, err := near(e, l)
		if err != nil {
			return err
		}
		s.near = append(s.near, near)
		for _, source := range []r3.Vec{l.Left, l.Right} {
			s.changes[path{l.Seat, source}] = new(change)
			for _, h := range s.heads {
				s.changes[path{h.at, source}] = new(change)
			}
		}
	}
	return nil
}

// seats lists where the paths end, in an order of their own.
func (s *Sensitivity) seats() []r3.Vec {
	var list []r3.Vec
	for p := range s.changes {
		if !slices.Contains(list, p.seat) {
			list = append(list, p.seat)
		}
	}
	slices.SortFunc(list, compareVec)
	return list
}

// hear fills in what one of the edge draws does to all paths to a seat.
func (s *Sensitivity) hear(e model.Engine, draw int, seat r3.Vec) error {
	if e == nil {
		return nil
	}
	field, err := e.Field(seat)
	if err != nil {
		return err
	}
	for p, c := range s.changes {
		switch {
		case p.seat != seat:
		case draw == 0:
			c.typical = field.Transfer(nil, p.source)
		default:
			c.ends[(draw-1)/2][(draw-1)%2] = field.Transfer(nil, p.source)
		}
	}
	return nil
}

// Stay is [Stay] by what the layouts are sensitive to. The rooms keep their size.
func (s *Sensitivity) Stay(ctx context.Context, draws []Draw) (*Standing, error) {
	sized := slices.Clone(draws)
	for i := range sized {
		sized[i].Size = r3.Vec{}
	}
	st, err := Stay(ctx, s.project, s.result, sized, func(d Draw) (model.Engine, error) { return s.Engine(d), nil })
	if err != nil {
		return nil, err
	}
	st.Interpolated, st.Wool = true, s.wool()
	return st, nil
}

// wool reports whether its resistivity changes anything.
func (s *Sensitivity) wool() bool {
	for _, c := range s.changes {
		if ends := c.ends[drawnParts-1]; ends[0] != nil || ends[1] != nil {
			return true
		}
	}
	return false
}

// Engine returns the engine of a drawn room. It answers for the layouts as the draw moves
// them, and for the other heads; any other place is a mistake of the caller and panics.
// The draw's size does not count.
func (s *Sensitivity) Engine(d Draw) model.Engine {
	room := &s.project.Room
	e := &drawnEngine{Sensitivity: s, draw: d, air: d.air(room), size: room.Size}
	was := room.Air()
	stretch := e.air.Speed / was.Speed
	e.gain = complex(stretch*e.air.Density/was.Density, 0)
	for _, f := range s.grid {
		e.grid = append(e.grid, f*stretch)
	}
	// The lowest is where a reach beyond the grid reads: the same in all draws.
	e.grid[0] = min(s.grid[0], e.grid[min(1, len(e.grid)-1)])
	for _, l := range s.layouts {
		e.moved = append(e.moved, d.layout(l, e.size))
	}
	return e
}

// add adds to the transfer over a path what walls and wool change by a draw.
func (c *change) add(dst []complex128, d *Draw) {
	for i, p := range c.typical {
		var sum, product complex128
		deep := false
		for part := range drawnParts {
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

// counter returns a function that counts up and tells progress, which may be nil, one
// call at a time.
func counter(total int, progress func(done, total int)) func() {
	var mu sync.Mutex
	done := 0
	return func() {
		mu.Lock()
		defer mu.Unlock()
		if done++; progress != nil {
			progress(done, total)
		}
	}
}
