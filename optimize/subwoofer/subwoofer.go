package subwoofer

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
)

// LeastGain is the gain in robust spread, dB, for which a further subwoofer is worth its price,
// floor space and cables. Our own choice, no source.
const LeastGain = 1.0

// Setting is how a subwoofer is set.
type Setting struct {
	Gain     model.Level // against one speaker of the pair
	Reversed bool
	Delay    float64 // s
	LowPass  float64 // Hz
}

// Unit is one subwoofer with its place and its setting.
type Unit struct {
	Place   model.SubwooferPlace
	Setting Setting
}

// Plan is the pair with a number of subwoofers.
type Plan struct {
	Units []Unit

	// Robust is what the search minimises: the spread of the worst channel, averaged over
	// the main seat and four places [Settings.Displacement] around it and, by their weights,
	// over the other seats and four places [score.SeatOffset] around each.
	Robust model.Level
	Seats  []Seat // everything exactly in place; the main seat first
}

// Seat is how a plan does at one seat.
type Seat struct {
	Name      string
	At        r3.Vec  // where the ears are, m
	Weight    float64 // its share of the score
	Judgement response.Judgement
	Card      response.Ranged // without a fall
	Walls     score.Bounds    // set by [SetBounds]
	Pair      response.Pair   // each speaker with all subwoofers, over the engine's grid, Pa·s/m³
	Mains     response.Pair   // the speakers alone as they are in the plan, filter included
	Units     [][]complex128  // each subwoofer alone, as set, for a signal in one channel
}

// Result is the outcome of a search for subwoofers.
type Result struct {
	Engine model.EngineInfo
	Why    string // why it was chosen, one clause; Search leaves it empty
	Goal   model.Goal
	Layout model.Layout // the pair and the main seat, which do not move

	// Plans holds the best plan with none, one, two ... subwoofers. It ends early where
	// another one improves nothing.
	Plans    []Plan
	Now      *Plan // the present subwoofers, set as well as possible; nil if there are none
	Most     int   // the most subwoofers that were planned
	Places   int   // legal places that were examined
	Warnings []model.Warning
}

// Settings controls a search for subwoofers. The zero value is a good choice.
type Settings struct {
	Count        int     // the most subwoofers; 0 uses the project's number
	Pitch        float64 // between two places along a wall, m; 0 is 0.15 m
	Displacement float64 // of the listener at the main seat, m; 0 is 0.05 m

	Progress model.Progress
}

// placing is the task of [Search].
const placing = "placing subwoofers"

// Search finds the places and settings of one subwoofer, then of two, and so on, with the
// pair and the seats where the layout has them. The project must be valid and have
// subwoofers. It is an error if no subwoofer can be placed. If the context ends, the plans
// made so far come back with its error.
func Search(ctx context.Context, p *model.Project, e model.Engine, l model.Layout, s Settings) (*Result, error) {
	if p.Subwoofers == nil {
		return nil, errors.New("the project has no subwoofers")
	}
	s.Count = min(optimize.Or(s.Count, p.Subwoofers.Count), model.MostSubwoofers)
	s.Pitch, s.Displacement = optimize.Or(s.Pitch, 0.15), optimize.Or(s.Displacement, 0.05)
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		return nil, err
	}
	r, err := newTables(ctx, p, b, l, s)
	if err != nil {
		return nil, err
	}
	result := &Result{
		Engine: e.Info(), Goal: p.Goal, Layout: l, Most: s.Count, Places: len(r.places),
		Warnings: slices.Concat(p.Warnings, e.Warnings()),
	}
	if err := r.now(ctx, result); err != nil {
		return nil, err
	}
	sets, err := r.Grow(ctx, s)
	for _, set := range sets {
		plan, err := r.plan(ctx, set)
		if err != nil {
			return nil, err
		}
		result.Plans = append(result.Plans, plan)
	}
	return result, err
}

// now sets the present subwoofers.
func (r *tables) now(ctx context.Context, result *Result) error {
	if len(r.sub.Placed) == 0 {
		return nil
	}
	var set []unit
	for _, pl := range r.present() {
		if err := ctx.Err(); err != nil {
			return err
		}
		base := r.base(set, -1)
		set = append(set, r.refineBest(base, pl, r.coarse(base, pl.transfers)))
	}
	plan, err := r.plan(ctx, r.tune(set))
	result.Now = &plan
	return err
}

// Grow returns the best sets of none, one, two ... subwoofers.
func (r *tables) Grow(ctx context.Context, s Settings) ([][]unit, error) {
	sets := [][]unit{nil}
	if len(r.places) == 0 {
		return sets, fmt.Errorf("there is no place for a subwoofer %s: speakers and seats are in the way of every one", r.sub.Where)
	}
	beams := [][][]unit{{nil}}
	for n := 1; n <= s.Count; n++ {
		beam := r.extend(ctx, beams)
		if err := ctx.Err(); err != nil {
			return sets, err
		}
		if len(beam) == 0 || !(r.Score(beam[0]) < r.Score(sets[n-1])-1e-9) {
			break
		}
		beams, sets = append(beams, beam), append(sets, beam[0])
		s.Progress.Report(placing, float64(n)/float64(s.Count))
	}
	s.Progress.Report(placing, 1)
	return sets, ctx.Err()
}

// plan computes the figures of a set.
func (r *tables) plan(ctx context.Context, set []unit) (Plan, error) {
	plan := Plan{Robust: model.Level(r.Score(set))}
	for _, s := range set {
		plan.Units = append(plan.Units, Unit{s.place.at, s.setting})
	}
	whole := r.whole
	reader := response.NewReader(whole.Grid(), whole.Air(), r.project.Goal)
	for _, h := range r.listeners {
		if !h.marked {
			continue
		}
		field, err := whole.Field(ctx, h.at)
		if err != nil {
			return plan, err
		}
		seat := r.evaluate(field, whole.Grid(), plan.Units)
		seat.Name, seat.At, seat.Weight = h.name, h.at, h.share
		seat.Judgement = reader.Judge(seat.Pair)
		seat.Card.Card = reader.Card(seat.Pair, nil)
		plan.Seats = append(plan.Seats, seat)
	}
	return plan, nil
}

// evaluate returns what arrives at a listener from the pair and subwoofers, over a field's
// grid.
func (r *tables) evaluate(field model.Field, grid model.Grid, subs []Unit) Seat {
	seat := Seat{Mains: r.mains(field, grid, len(subs) > 0)}
	seat.Pair = response.Pair{Left: slices.Clone(seat.Mains.Left), Right: slices.Clone(seat.Mains.Right)}
	for _, s := range subs {
		way := r.transferFrom(field, grid, s.Place)
		for i, d := range r.drives(nil, s.Setting, grid) {
			way[i] *= d
			seat.Pair.Left[i] += way[i]
			seat.Pair.Right[i] += way[i]
		}
		seat.Units = append(seat.Units, way)
	}
	return seat
}

// Spread returns the plain spread at the main seat.
func (p *Plan) Spread() model.Level { return p.Seats[0].Judgement.Spread() }

// workspaces pools working memory.
type workspaces struct{ sync.Pool }

func newWorkspaces(n int) *workspaces {
	p := new(workspaces)
	p.New = func() any {
		return &buffers{left: make([]complex128, n), right: make([]complex128, n), drive: make([]complex128, n)}
	}
	return p
}

// buffers is the working memory of one evaluation.
type buffers struct {
	left, right, drive []complex128
	scratch            response.Scratch
}
