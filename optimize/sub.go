package optimize

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
)

// Knobs is what a subwoofer is set to.
type Knobs struct {
	Gain     model.Level // against one speaker of the pair
	Reversed bool
	Delay    float64 // s
	LowPass  float64 // Hz
}

// Sub is one subwoofer: where it stands and what it is set to.
type Sub struct {
	Perch model.Perch
	Knobs Knobs
}

// SubPlan is the pair with so many subwoofers.
type SubPlan struct {
	Subs []Sub

	// Robust is what the search minimises: the worst channel's spread, averaged over
	// the main seat and four places [Settings.Displacement] about it and, by their
	// weights, over the other seats and four places [HeadBox] about each.
	Robust model.Level
	Seats  []SubSeat // everything exactly in place; the main seat first
}

// SubSeat is how a plan does at one seat.
type SubSeat struct {
	Name      string
	At        r3.Vec  // the middle of the head, m
	Weight    float64 // its share of the score
	Judgement response.Judgement
	Walls     Bounds         // set by [WidenSubs]
	Pair      response.Pair  // each speaker with all subwoofers, over the engine's grid, Pa·s/m³
	Mains     response.Pair  // the speakers alone as they are in the plan, filter included
	Subs      [][]complex128 // each subwoofer alone, as set, for a signal in one channel
}

// SubResult is the outcome of a search for subwoofers.
type SubResult struct {
	Engine string
	Why    string // why that one was chosen, one clause; Subs leaves it empty
	Goal   model.Goal
	Layout model.Layout // the pair and the main seat, which stay

	// Plans holds the best with none, one, two ... subwoofers. It ends early where a
	// further one brings nothing.
	Plans    []SubPlan
	Now      *SubPlan // the subwoofers where they stand now, as well set as can be; nil if none stand
	Most     int      // how many were planned for at most
	Places   int      // legal places that were looked at
	Warnings []model.Warning
}

// SubSettings controls a search for subwoofers. The zero value is a good choice.
type SubSettings struct {
	Count        int     // the most; 0 is what the project says
	Pitch        float64 // between two places along a wall, m; 0 is 0.15 m
	Displacement float64 // of the head at the main seat, m; 0 is 0.05 m

	// Progress, if set, is told the share that is done, 0 to 1. It is never called by
	// two goroutines at once.
	Progress func(share float64)
}

// Subs searches for the places and settings of one subwoofer, then two, and so on,
// with the pair and the seats where they are in the layout. The project must have
// subwoofers and be valid. What cannot be placed is an error. If the context ends, the
// plans done so far come back with its error.
func Subs(ctx context.Context, p *model.Project, e model.Engine, l model.Layout, s SubSettings) (*SubResult, error) {
	if p.Subwoofers == nil {
		return nil, errors.New("the project has no subwoofers")
	}
	s.Count = min(or(s.Count, p.Subwoofers.Count), model.MostSubwoofers)
	s.Pitch, s.Displacement = or(s.Pitch, 0.15), or(s.Displacement, 0.05)
	if s.Progress == nil {
		s.Progress = func(float64) {}
	}
	b, err := newBanded(e, p.Goal)
	if err != nil {
		return nil, err
	}
	r, err := newSubRoom(ctx, p, b, l, s)
	if err != nil {
		return nil, err
	}
	result := &SubResult{
		Engine: e.Name(), Goal: p.Goal, Layout: l, Most: s.Count, Places: len(r.perches),
		Warnings: slices.Concat(p.Warnings, e.Warnings()),
	}
	if err := r.now(ctx, result); err != nil {
		return nil, err
	}
	sets, err := r.grow(ctx, s)
	for _, set := range sets {
		plan, err := r.plan(set)
		if err != nil {
			return nil, err
		}
		result.Plans = append(result.Plans, plan)
	}
	return result, err
}

// now sets the subwoofers that stand already.
func (r *subRoom) now(ctx context.Context, result *SubResult) error {
	if len(r.sub.Placed) == 0 {
		return nil
	}
	var set []seated
	for _, pl := range r.placed() {
		if err := ctx.Err(); err != nil {
			return err
		}
		base := r.base(set, -1)
		set = append(set, r.settle(base, pl, r.coarse(base, pl.heads)))
	}
	plan, err := r.plan(r.tuned(set))
	result.Now = &plan
	return err
}

// grow returns the best sets of none, one, two ... subwoofers.
func (r *subRoom) grow(ctx context.Context, s SubSettings) ([][]seated, error) {
	sets := [][]seated{nil}
	if len(r.perches) == 0 {
		return sets, fmt.Errorf("there is no place for a subwoofer %s: speakers and seats are in the way of every one", r.sub.Where)
	}
	beams := [][][]seated{{nil}}
	for n := 1; n <= s.Count; n++ {
		beam := r.wider(ctx, beams)
		if err := ctx.Err(); err != nil {
			return sets, err
		}
		if len(beam) == 0 || !(r.score(beam[0]) < r.score(sets[n-1])-1e-9) {
			break
		}
		beams, sets = append(beams, beam), append(sets, beam[0])
		s.Progress(float64(n) / float64(s.Count))
	}
	s.Progress(1)
	return sets, ctx.Err()
}

// plan computes what is shown of a set.
func (r *subRoom) plan(set []seated) (SubPlan, error) {
	plan := SubPlan{Robust: model.Level(r.score(set))}
	for _, s := range set {
		plan.Subs = append(plan.Subs, Sub{s.place.perch, s.knobs})
	}
	whole := r.whole
	reader := response.NewReader(whole.Grid(), whole.Air(), r.project.Goal)
	for _, h := range r.heads {
		if !h.marked {
			continue
		}
		field, err := whole.Field(h.at)
		if err != nil {
			return plan, err
		}
		seat := r.hear(field, whole.Grid(), plan.Subs)
		seat.Name, seat.At, seat.Weight = h.name, h.at, h.share
		seat.Judgement = reader.Judge(seat.Pair)
		plan.Seats = append(plan.Seats, seat)
	}
	return plan, nil
}

// hear returns what a head gets from the pair and subwoofers, over a field's grid.
func (r *subRoom) hear(field model.Field, grid model.Grid, subs []Sub) SubSeat {
	seat := SubSeat{Mains: r.mains(field, grid, len(subs) > 0)}
	seat.Pair = response.Pair{Left: slices.Clone(seat.Mains.Left), Right: slices.Clone(seat.Mains.Right)}
	for _, s := range subs {
		way := r.arrive(field, grid, s.Perch)
		for i, d := range r.drives(nil, s.Knobs, grid) {
			way[i] *= d
			seat.Pair.Left[i] += way[i]
			seat.Pair.Right[i] += way[i]
		}
		seat.Subs = append(seat.Subs, way)
	}
	return seat
}

// Spread returns the plain spread at the main seat.
func (p *SubPlan) Spread() model.Level { return p.Seats[0].Judgement.Spread() }

// scratchPool lends working memory.
type scratchPool struct{ sync.Pool }

func newScratchPool(n int) *scratchPool {
	p := new(scratchPool)
	p.New = func() any {
		return &subDesk{left: make([]complex128, n), right: make([]complex128, n), drive: make([]complex128, n)}
	}
	return p
}

// subDesk is the working memory of one evaluation.
type subDesk struct {
	left, right, drive []complex128
	scratch            response.Scratch
}
