package plan

import (
	"context"
	"errors"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/optimize/score"
	"evenbass/optimize/study"
	"evenbass/optimize/whatif"
)

// Settings says what [Make] computes.
type Settings struct {
	Places study.PlaceSettings // of the search; a Limit here is for the whole plan, of which the search takes half
	Quick  bool                // the places alone
}

// Plan is what the owner of a room does.
type Plan struct {
	Study  *study.Study
	Places *study.Places

	Moved  bool           // Placed has speakers and seat where the first layout puts them; else where they stand now
	Placed *model.Project // the room in which treatments are judged

	Options   *whatif.Comparison    // nil: see Missing
	ReadyMade string                // the ready-made comparison that stands in for options of the owner's; "" for those of the owner
	Blocked   []model.BlockedOption // options that are left out

	Stages *study.Stages // nil: see Missing

	Pieces *build.Plan    // what to buy, cut and hang; nil: see Missing
	Built  *model.Project // the room with these pieces: those of its file, and all stages

	Missing []Missing
}

// Step is one step of a plan.
type Step int

// The steps after the places.
const (
	CompareOptions Step = iota
	ChooseStages
	BuildPieces
)

// Missing is a step that a plan lacks.
type Missing struct {
	Step Step
	Why  Reason
	Err  error // with Impossible
}

// Reason says why a step is missing.
type Reason int

// The reasons.
const (
	Impossible Reason = iota // Err says why
	LeftOut                  // a quick plan
	Stopped                  // the context was cancelled
	OutOfTime                // the time was used up
	NoOptions                // the room file has no options; its stock says what can be built
	AllBlocked               // each option blocks what must stay usable
	Nothing                  // there is nothing to build
)

// Make computes a plan. If the context ends, the plan holds what is there, with the context's
// error; without a single layout it is nil.
func Make(ctx context.Context, s *study.Study, settings Settings) (*Plan, error) {
	limit, start := settings.Places.Limit, settings.Places.Start
	settings.Places.Limit /= 2
	places, err := s.Place(ctx, settings.Places)
	if places == nil {
		return nil, err
	}
	if err != nil && !errors.Is(err, context.Canceled) {
		return nil, err
	}
	p := &Plan{Study: s, Places: places}
	p.place()
	if settings.Quick {
		p.Missing = []Missing{{Step: CompareOptions, Why: LeftOut}, {Step: ChooseStages, Why: LeftOut}}
		p.pieces()
		return p, ctx.Err()
	}
	within, done := ctx, context.CancelFunc(func() {})
	if limit > 0 {
		within, done = context.WithDeadline(ctx, start.Add(limit))
	}
	defer done()
	progress := settings.Places.Progress
	p.compare(within, progress)
	p.stages(within, progress)
	p.pieces()
	return p, ctx.Err()
}

// place decides where speakers and seat stand while treatments are judged. That is the first layout even where another
// one impairs less: which of the two an owner prefers is not known.
func (p *Plan) place() {
	project, r := p.Study.Project, p.Places.Result
	p.Placed = project
	best := &r.Candidates[0]
	if r.Now != nil && len(r.Now.Breaches) == 0 {
		now, then := r.Now.Criteria(), best.Criteria()
		if !score.Worthwhile(&now, &then) {
			return
		}
	}
	p.Moved, p.Placed = true, project.WithLayout(best.Layout)
}

// stages plans what to build first.
func (p *Plan) stages(ctx context.Context, progress model.Progress) {
	if ctx.Err() != nil {
		p.miss(ChooseStages, reason(ctx), nil)
		return
	}
	stages, err := study.SketchStages(ctx, p.Placed, progress)
	switch {
	case err == nil, stages != nil && stages.Plan != nil && len(stages.Plan.Stages) > 0:
		p.Stages = stages
	default:
		p.miss(ChooseStages, reason(ctx), err)
	}
}

// pieces lists what to build: the treatments that do not stand yet, and the stages.
func (p *Plan) pieces() {
	p.Built = p.Placed
	if p.Stages != nil && p.Stages.Planned != nil {
		p.Built = p.Stages.Planned
	}
	pieces, err := build.Make(p.Built)
	switch {
	case err != nil:
		p.miss(BuildPieces, Impossible, err)
	case len(pieces.Pieces) == 0:
		p.miss(BuildPieces, Nothing, nil)
	default:
		p.Pieces = pieces
	}
}

func (p *Plan) miss(step Step, why Reason, err error) {
	p.Missing = append(p.Missing, Missing{step, why, err})
}

// reason says why work in a context failed.
func reason(ctx context.Context) Reason {
	switch err := ctx.Err(); {
	case err == nil:
		return Impossible
	case errors.Is(err, context.DeadlineExceeded):
		return OutOfTime
	}
	return Stopped
}

// readyMade is the ready-made comparison that shows what could be built where a room file has
// neither options nor a stock.
const readyMade = "corners"

// compare tries the options of the room file. Without any it tries a ready-made comparison, unless
// there is a stock from which stages are chosen.
func (p *Plan) compare(ctx context.Context, progress model.Progress) {
	options := p.Study.Project.Options
	if len(options) == 0 {
		if p.Placed.Stock != nil {
			p.miss(CompareOptions, NoOptions, nil)
			return
		}
		var err error
		if options, err = whatif.ReadyMade(readyMade, p.Placed); err != nil {
			p.miss(CompareOptions, Impossible, err)
			return
		}
		p.ReadyMade = readyMade
	}
	if options, p.Blocked = p.Placed.Allowed(options); len(options) == 0 {
		p.miss(CompareOptions, AllBlocked, nil)
		return
	}
	if ctx.Err() != nil {
		p.miss(CompareOptions, reason(ctx), nil)
		return
	}
	compared, err := study.Compare(ctx, p.Placed, options, progress)
	if err != nil {
		p.miss(CompareOptions, reason(ctx), err)
		return
	}
	p.Options = compared
}
