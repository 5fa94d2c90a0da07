package whatif

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize/score"
)

// Comparison sets the room as it is against what options would make of it, with speakers and
// seat unchanged.
type Comparison struct {
	Engine model.EngineInfo
	Layout model.Layout
	Goal   model.Goal
	Grid   model.Grid // of the curves, Hz
	Now    State
	States []State // by option
}

// State is one state of the room with its figures.
type State struct {
	Name      string // of the option; empty for the room as it is
	Project   *model.Project
	Judgement response.Judgement
	Card      response.Ranged       // of the main seat
	Decay     []response.Decay      // of left and right alone, energies summed
	Fading    *spectraldecay.Signal // of both together: how long each tone stays
	Modes     []ModeDecay           // the lowest modes of a plain box, by frequency; nil for any other room
	LowEnd    model.Level           // mean of both together over the lowest octave of the goal, dB re 1 m in the free field
	Cured     []DipChange           // by the option, the greatest change first
	Created   []DipChange
	Floor     float64          // floor under treatments, m²; those that begin above 2 m do not count
	Build     *build.Plan      // nil if there is nothing to build
	Places    *score.Candidate // the best layout of a search; nil if there was none
	Breaches  []model.Rule     // rules that the present places break only with the option
	Warnings  []model.Warning
}

// DipChange is how an option changes one dip.
type DipChange struct {
	Channel       response.Channel
	Frequency     float64     // Hz
	Before, After model.Level // dB re the band's mean
}

// Solver sets up the engine of a project over a grid of frequencies. While it computes a
// field, the engine may report how much of it is done, 0 to 1.
type Solver func(p *model.Project, grid model.Grid, progress model.Progress) (model.Engine, error)

// Compare solves the room as it is and with each option, for the present places, which the
// project must have, over a grid of frequencies. Each state takes one run from the seat.
// Progress may be nil; it receives how much of all runs is done, 0 to 1, from one goroutine at a time.
//
// The decay of single modes is given only if the modal engine solves every state: the modes
// of a room with treatments are not known.
func Compare(ctx context.Context, p *model.Project, options []model.Option, grid model.Grid, solve Solver, progress model.Progress) (*Comparison, error) {
	now, ok := p.Now()
	if !ok {
		return nil, fmt.Errorf("the room file does not say where speakers and seat are")
	}
	w := &Comparison{Layout: now, Goal: p.Goal, Grid: grid, States: make([]State, len(options))}
	projects := make([]*model.Project, len(options)+1)
	projects[0] = p
	for i := range options {
		var err error
		if projects[i+1], err = p.With(&options[i]); err != nil {
			return nil, fmt.Errorf("option %q: %w", options[i].Name, err)
		}
	}
	both := score.NewBothGrids(w.Grid)
	all := make([]State, len(projects))
	engines := make([]model.EngineInfo, len(projects))
	progresses := progress.Split("comparing", len(projects))
	err := concurrent.Each(len(projects), func(i int) (err error) {
		if err := ctx.Err(); err != nil {
			return err
		}
		all[i], engines[i], err = w.state(ctx, projects[i], both, solve, progresses[i])
		progresses[i].Report("", 1)
		return err
	})
	if err != nil {
		return nil, err
	}
	if !slices.ContainsFunc(engines, func(e model.EngineInfo) bool { return e.Kind != model.ModeEngine }) {
		for i := range all {
			if all[i].Modes, err = modeDecays(&projects[i].Room); err != nil {
				return nil, err
			}
		}
	}
	w.Now, w.States, w.Engine = all[0], all[1:], engines[0]
	for i := range w.States {
		t := &w.States[i]
		t.Name = options[i].Name
		t.Cured, t.Created = dipChanges(w.Grid, w.Goal, &w.Now.Judgement, &t.Judgement)
		t.Breaches = newBreaches(p.Breaches(now), t.Project.Breaches(now))
	}
	return w, nil
}

// state computes one state of the room, over grids that hold the result's own.
func (w *Comparison) state(ctx context.Context, p *model.Project, both score.BothGrids, solve Solver, progress model.Progress) (State, model.EngineInfo, error) {
	t := State{Project: p}
	engine, err := solve(p, both.Grid, progress)
	if err != nil {
		return t, model.EngineInfo{}, err
	}
	field, err := engine.Field(ctx, w.Layout.Seat)
	if err != nil {
		return t, model.EngineInfo{}, err
	}
	left, right := field.Transfer(nil, w.Layout.Left), field.Transfer(nil, w.Layout.Right)
	pair := response.Pair{Left: score.Pick(left, both.Levels), Right: score.Pick(right, both.Levels)}
	reader := response.NewSpeakerReader(w.Grid, engine.Air(), p.Goal, p.Speakers.RollOff())
	t.Judgement = reader.Judge(pair)
	if _, err := score.Finite(t.Judgement.Spread(), w.Layout); err != nil {
		return t, model.EngineInfo{}, err
	}
	over := response.Pair{Left: score.Pick(left, both.Decays), Right: score.Pick(right, both.Decays)}
	t.Decay = both.Decay.Read(over.Left, over.Right)
	t.Card.Card = reader.Card(pair, t.Decay)
	tones := over.Through(p.Speakers.RollOff(), response.DecayGrid()).Of(response.BothTogether)
	if t.Fading, err = spectraldecay.Transfer(response.DecayGrid(), tones, engine.Air()); err != nil {
		return t, model.EngineInfo{}, err
	}
	low := p.Goal
	low.To = min(2*low.From, low.To)
	t.LowEnd = response.NewSpeakerReader(w.Grid, engine.Air(), low, p.Speakers.RollOff()).Read(pair.Of(response.BothTogether)).Mean
	t.Floor = floorTaken(&p.Room)
	if len(p.Room.Treatments) > 0 {
		if t.Build, err = build.Make(p); err != nil {
			t.Build = nil // a state that cannot be built is still computed, without costs
			t.Warnings = append(t.Warnings, model.PartMissing{Part: model.CostPart, Why: err.Error()})
		}
	}
	t.Warnings = append(t.Warnings, engine.Warnings()...)
	return t, engine.Info(), nil
}

// dipWorth is the least change of a dip that is reported, dB.
const dipWorth = 3

// dipChanges returns the dips of one curve that are shallower in another by at least
// dipWorth, and those of the other that were shallower before. A dip that several channels
// share appears once.
func dipChanges(grid model.Grid, goal model.Goal, before, after *response.Judgement) (cured, created []DipChange) {
	for _, c := range response.Channels {
		was, is := before.Figures[c].Mean, after.Figures[c].Mean
		for i := 1; i+1 < len(grid); i++ {
			f := grid[i]
			if f < goal.From || f > goal.To {
				continue
			}
			old, now := before.Curves[c][i]-was, after.Curves[c][i]-is
			change := DipChange{Channel: c, Frequency: f, Before: old, After: now}
			if isDip(before.Curves[c], i) && old < -dipWorth && now-old >= dipWorth {
				cured = append(cured, change)
			}
			if isDip(after.Curves[c], i) && now < -dipWorth && old-now >= dipWorth {
				created = append(created, change)
			}
		}
	}
	return worstOnce(cured), worstOnce(created)
}

// isDip reports whether a curve has a local minimum at i.
func isDip(curve []model.Level, i int) bool {
	return curve[i] < curve[i-1] && curve[i] <= curve[i+1]
}

// worstOnce sorts changes by size and drops those within 1/12 octave of a larger one.
func worstOnce(list []DipChange) []DipChange {
	size := func(d DipChange) float64 { return math.Abs(float64(d.After - d.Before)) }
	slices.SortStableFunc(list, func(a, b DipChange) int { return cmp.Compare(size(b), size(a)) })
	var kept []DipChange
	for _, d := range list {
		if !slices.ContainsFunc(kept, func(k DipChange) bool { return math.Abs(math.Log2(k.Frequency/d.Frequency)) < 1.0/12 }) {
			kept = append(kept, d)
		}
	}
	return kept
}

// headroom is the height above which a piece occupies no floor, m.
const headroom = 2.0

// floorTaken returns the floor under treatments that begin below [headroom], m², without furniture. Pieces
// above one another each count.
func floorTaken(r *model.Room) float64 {
	var sum float64
	for i := range r.Treatments {
		t := &r.Treatments[i]
		b := r.Space(t)
		if b.Min.Z >= headroom || t.Furnished() {
			continue
		}
		area := (b.Max.X - b.Min.X) * (b.Max.Y - b.Min.Y)
		if t.Form == model.InCorner && !t.Corner.Square && t.Corner.Axis() == 2 {
			area /= 2
		}
		sum += area
	}
	return sum
}

// newBreaches returns the rules that are broken after a change and were not before.
func newBreaches(before, after []model.Breach) []model.Rule {
	var list []model.Rule
	for _, b := range after {
		if !slices.ContainsFunc(before, func(a model.Breach) bool { return a.Rule == b.Rule }) {
			list = append(list, b.Rule)
		}
	}
	return list
}

// MeanFall is the mean time to fall by 20 dB over the third octaves, s; see
// [response.MeanFall].
func (t *State) MeanFall() float64 { return response.MeanFall(t.Decay) }
