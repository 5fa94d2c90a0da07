package observation

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
)

// Prediction is what is predicted for the speakers' present places, roll-off included, to be compared with a
// measurement.
type Prediction struct {
	Pair       response.Pair // over Grid
	OverDecays response.Pair // over response.DecayGrid
	Grid       model.Grid
	Air        model.Air
	Engine     model.EngineInfo
	Why        string // the engine was chosen, one clause
	Warnings   []model.Warning
}

// ErrNotPlaced is returned if the room file does not say where the speakers stand.
var ErrNotPlaced = errors.New("the room file does not say where the speakers stand")

// Predict predicts what a microphone measures at a place, with the speakers at their present places and
// typical, hard or soft walls. If the state is known, the room has only the treatments that it names.
func Predict(ctx context.Context, p *model.Project, seat r3.Vec, state []string, stateKnown bool, walls material.Estimate, progress model.Progress) (*Prediction, error) {
	if !p.Speakers.Placed {
		return nil, ErrNotPlaced
	}
	room := inState(p, state, stateKnown)
	return predictOver(ctx, room, score.NewBothGrids(engines.Grid(ctx, room)), seat, walls, progress)
}

// predictOver is [Predict] for the room in its state, over known grids.
func predictOver(ctx context.Context, room *model.Project, both score.BothGrids, seat r3.Vec, walls material.Estimate, progress model.Progress) (*Prediction, error) {
	choice, err := engines.Choose(engines.Auto, &room.Room)
	if err != nil {
		return nil, err
	}
	progress.Report("predicting", 0)
	engine, err := engineFor(room, choice.Kind, walls, both.Grid, progress)
	if err != nil {
		return nil, err
	}
	layout := model.Layout{Left: room.Speakers.Left, Right: room.Speakers.Right, Seat: seat}
	reading, err := both.Read(ctx, engine, room, layout)
	if err != nil {
		return nil, err
	}
	speakers := room.Speakers.RollOff()
	reading.Pair = reading.Pair.Through(speakers, both.LevelGrid)
	reading.OverDecays = reading.OverDecays.Through(speakers, response.DecayGrid())
	return &Prediction{
		Pair: reading.Pair, OverDecays: reading.OverDecays, Grid: both.LevelGrid, Air: engine.Air(), Engine: engine.Info(), Why: choice.Why, Warnings: engine.Warnings(),
	}, nil
}

// PredictMeasurement predicts a measurement for its microphone's place and the room's state at the time, see
// [Stand]. It returns one analysis for each estimate of the walls, and the prediction by the first. It fails
// if the place is not known, or for a subwoofer alone.
func PredictMeasurement(ctx context.Context, p *model.Project, m *measure.Measurement, walls []material.Estimate, progress model.Progress) ([]*analysis.Analysis, *Prediction, error) {
	at := m.At
	if !m.Placed {
		seat, ok := p.SeatOf(&model.Measured{Seat: m.Seat})
		if !ok || !seat.Placed {
			return nil, nil, errors.New("a prediction needs the place of the microphone: give the seat's \"at\" in the room file")
		}
		at = seat.At
	}
	if m.Speaker == model.SubSpeaker {
		return nil, nil, errors.New("a subwoofer alone is not predicted; compare a measurement of left, right or both")
	}
	if !p.Speakers.Placed {
		return nil, nil, ErrNotPlaced
	}
	room := inState(p, m.State, m.StateKnown)
	both := score.NewBothGrids(engines.Grid(ctx, room))
	var list []*analysis.Analysis
	var first *Prediction
	for _, estimate := range walls {
		s, err := predictOver(ctx, room, both, at, estimate, progress)
		if err != nil {
			return nil, nil, err
		}
		list, first = append(list, s.analysis(p, m.Speaker)), cmp.Or(first, s)
	}
	return list, first, nil
}

// analysis returns what is read off the prediction for left, right or both.
func (s *Prediction) analysis(p *model.Project, speaker model.Source) *analysis.Analysis {
	channel := response.BothTogether
	switch speaker {
	case model.LeftSpeaker:
		channel = response.LeftAlone
	case model.RightSpeaker:
		channel = response.RightAlone
	}
	a := analysis.Predict(channel, s.Grid, s.Pair.Of(channel), s.OverDecays.Of(channel), s.Air, p.Goal)
	a.Flat = p.Speakers.LowLimit == 0
	return a
}

// inState returns the project with only the treatments of a state, those of its options among them.
func inState(p *model.Project, state []string, known bool) *model.Project {
	if !known {
		return p
	}
	q := *p
	q.Room.Treatments = p.Room.Furniture() // always there
	all := slices.Clone(p.Room.Treatments)
	for _, o := range p.Options {
		all = append(all, o.Add...)
	}
	for _, t := range all {
		stands := slices.ContainsFunc(q.Room.Treatments, func(s model.Treatment) bool { return s.Name == t.Name && t.Name != "" })
		if slices.Contains(state, t.Name) && !stands && !t.Furnished() {
			q.Room.Treatments = append(q.Room.Treatments, t)
		}
	}
	return &q
}

// engineFor returns an engine for the speakers where they stand.
func engineFor(p *model.Project, kind model.EngineKind, walls material.Estimate, grid model.Grid, progress model.Progress) (model.Engine, error) {
	if kind == model.WaveEngine {
		return engines.NewRoom(p, walls, grid, wave.Settings{
			Zones: []model.Block{engines.PlaceZone(p.Speakers.Left), engines.PlaceZone(p.Speakers.Right)}, Fits: new(fit.Memory), Progress: progress,
		})
	}
	return engines.NewModal(p, walls, grid)
}
