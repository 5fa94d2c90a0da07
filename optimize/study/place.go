package study

import (
	"context"
	"errors"
	"slices"
	"time"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize"
	"evenbass/optimize/floormap"
	"evenbass/optimize/search"
	"evenbass/optimize/series"
	"evenbass/optimize/uncertainty"
)

// PlaceSettings says what [Study.Place] computes.
type PlaceSettings struct {
	Seed    int64 // of the search and the trials
	Layouts int   // wanted, 1 to 5

	// Limit, if it is above 0, is how long the search may take from Start on. What else is
	// computed comes on top.
	Start time.Time
	Limit time.Duration

	Trials       int  // with random walls, wool, temperature and tape; 0 is none
	TrialsWanted bool // also after a search that used up its time

	Sketch bool // try fewer layouts, and explain the dips of the present places alone

	Maps     bool // map the floor for the first layout
	Series   bool // pack the field for a page that answers for other places
	Options  bool // with the series: pack it with each option of the room file too
	Pairs    bool // with the options: each two that go together as well
	Progress model.Progress
}

// Places is what a search for places found, with all that is shown of it.
type Places struct {
	Result    *optimize.Result
	Faults    []LayoutFaults         // of the present layout and the first
	Stability *uncertainty.Stability // nil if there were no trials
	Thumb     *Thumb                 // nil where it cannot be had
	Widened   *Widened               // nil where no default rule holds the first layout back
	Floor     *floormap.Survey       // nil if it was not asked for, or could not be had
	Series    *series.Table          // likewise
	Variants  []Variant              // the same with each option; nil if they were not asked for
	Fading    Fading                 // only with maps
	Warnings  []model.Warning        // beyond those of the result
	Panics    []*concurrent.Panic    // faults of the program after the search; what they prevented is missing
}

// ErrImages says that a search cannot use the image engine.
var ErrImages = errors.New("every place costs the whole sum over the mirror images, and a search tries thousands")

// Place searches the best places, then computes the bounds of their figures, the best places
// for facing other walls, the trials, the causes of dips, the maps and the packed field, in this
// order. If the
// context ends it returns what is there with the context's error, or nil if nothing was found.
// Time that is used up ends no search before its first layout.
func (s *Study) Place(ctx context.Context, settings PlaceSettings) (*Places, error) {
	if s.Kind == model.ImageEngine {
		return nil, ErrImages
	}
	var tables *optimize.Tables
	if s.Project.Unwritten != (model.Unwritten{}) {
		tables = new(optimize.Tables) // for wider rules
	}
	result, err := s.searchPlaces(ctx, settings, tables)
	if result == nil {
		return nil, err
	}
	out := &Places{Result: result}
	for _, step := range []struct {
		what string
		work func() error
	}{
		{"facing other walls", func() error { return s.face(ctx, result, settings) }},
		{"running the trials", func() (err error) { out.Stability, err = s.stability(ctx, result, settings); return err }},
		{"ordering the layouts", func() error { return s.order(ctx, out) }},
		{"trying rules of thumb", func() error { out.Thumb = s.thumb(ctx, result.Candidates[0].Layout); return nil }},
		{"trying wider default rules", func() (err error) { out.Widened, err = s.widen(ctx, result, settings, tables); return err }},
		{"explaining dips and mapping the floor", func() error { return s.explainPlaces(ctx, out, settings) }},
		{"packing the field for the page", func() error { return s.packPlaces(ctx, out, settings) }},
	} {
		var fault *concurrent.Panic
		switch err := concurrent.Try(step.work); {
		case errors.As(err, &fault):
			out.Panics = append(out.Panics, fault)
			out.Warnings = append(out.Warnings, model.StepFailed{Step: step.what})
		case errors.Is(err, context.Canceled):
		case err != nil:
			return nil, err
		}
	}
	if ctx.Err() != nil && result.Stopped != search.Cancelled {
		result.Stopped = search.CutShort
	}
	return out, ctx.Err()
}

// search returns the settings of the search itself. The wave solver searches on coarse cells.
func (s *Study) search(settings PlaceSettings) optimize.Settings {
	out := optimize.Settings{Seed: settings.Seed, Layouts: settings.Layouts}
	if settings.Sketch {
		out.Population, out.Generations, out.StallLimit = 32, 16, 6
	}
	if s.coarse != nil {
		out.Wide = s.coarse
	}
	return out
}

// searchTimeShare is the part of a search's time that goes to trying layouts. The rest is left
// for the polish, without which no layout is a local optimum.
const searchTimeShare = 0.6

// limits returns the contexts that end a search and its breeding.
func (p *PlaceSettings) limits(ctx context.Context) (all, breeding context.Context, done func()) {
	if p.Limit <= 0 {
		return ctx, ctx, func() {}
	}
	all, doneAll := context.WithDeadline(ctx, p.Start.Add(p.Limit))
	breeding, doneBreeding := context.WithDeadline(all, p.Start.Add(time.Duration(searchTimeShare*float64(p.Limit))))
	return all, breeding, func() { doneBreeding(); doneAll() }
}

// searchPlaces searches and sets the bounds of what was found. It returns nil with the reason if
// nothing was found, else nil as the error unless it failed.
func (s *Study) searchPlaces(ctx context.Context, settings PlaceSettings, tables *optimize.Tables) (*optimize.Result, error) {
	all, breeding, release := settings.limits(ctx)
	defer release()
	search := s.search(settings)
	search.BreedUntil, search.FiguresUntil, search.Tables = breeding, ctx, tables
	search.Progress = s.searching("searching", settings.Progress)
	result, err := optimize.Place(all, s.Project, s.Engine, search)
	if err != nil && !errors.Is(err, context.Canceled) && !errors.Is(err, context.DeadlineExceeded) {
		return nil, err
	}
	if result == nil {
		return nil, err
	}
	result.Why = s.Why
	result.Warnings = append(result.Warnings, s.Warnings...)
	if err := s.setCards(ctx, result.Shown()...); err != nil && !errors.Is(err, context.Canceled) {
		return nil, err
	}
	result.DropWorse()
	return result, nil
}

// explainPlaces adds the causes of dips and the maps.
func (s *Study) explainPlaces(ctx context.Context, out *Places, settings PlaceSettings) (err error) {
	settings.Progress.Report("explaining dips", 0)
	if out.Faults, err = s.faults(ctx, out.Result, settings.Sketch); err != nil || !settings.Maps {
		return err
	}
	if out.Fading, err = s.fading(out.Result); err != nil {
		return err
	}
	out.Floor, err = s.survey(ctx, out.Result.Candidates[0].Layout, true, floormap.Settings{Progress: settings.Progress})
	if err != nil && !errors.Is(err, context.Canceled) {
		out.Warnings = append(out.Warnings, model.PartMissing{Part: model.MapsPart, Why: err.Error()})
		err = nil
	}
	return err
}

// packPlaces packs the field for a page.
func (s *Study) packPlaces(ctx context.Context, out *Places, settings PlaceSettings) (err error) {
	if !settings.Series {
		return nil
	}
	settings.Progress.Report("packing the field for the page", 0)
	first := out.Result.Candidates[0].Layout
	out.Series, err = s.Series(ctx, first)
	if err == nil && settings.Options {
		var warnings []model.Warning
		out.Variants, warnings, err = s.Variants(ctx, out.Series, first.Seat, settings.Pairs, settings.Progress)
		out.Warnings = append(out.Warnings, warnings...)
	}
	if err != nil && ctx.Err() == nil {
		out.Warnings = append(out.Warnings, model.PartMissing{Part: model.AnswersPart, Why: err.Error()})
		err = nil
	}
	return err
}

// Best searches the best places for a study that goes on from them. It fails if the context
// ends.
func (s *Study) Best(ctx context.Context, progress model.Progress) (model.Layout, error) {
	search := s.search(PlaceSettings{Seed: 1, Layouts: 1})
	search.Progress = s.searching("placing the speakers", progress)
	found, err := optimize.Layouts(ctx, s.Project, s.Engine, search)
	if err != nil {
		return model.Layout{}, err
	}
	return found[0], nil
}

// order puts the layouts in the order of [optimize.Result.Order], with what is known of each, and
// searches the steps to the first one again if that has changed.
func (s *Study) order(ctx context.Context, out *Places) (err error) {
	r := out.Result
	order := r.Order()
	if slices.IsSorted(order) {
		return nil
	}
	r.Candidates = picked(r.Candidates, order)
	if st := out.Stability; st != nil {
		st.Layouts = picked(st.Layouts, order)
		copy(st.Cards, picked(st.Cards[:len(order)], order))
	}
	if r.Now != nil && order[0] != 0 {
		r.Steps, err = optimize.Steps(ctx, s.Project, s.Engine, r.Now.Layout, r.Candidates[0].Layout)
	}
	return err
}

// picked returns the elements of a list in another order.
func picked[T any](list []T, order []int) []T {
	out := make([]T, len(order))
	for i, k := range order {
		out[i] = list[k]
	}
	return out
}
