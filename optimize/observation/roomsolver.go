package observation

import (
	"context"
	"math"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/measure/calibration"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/geometry"
)

// roomSolver solves the states of any room for a calibration, by the wave solver on coarse cells. A
// state of the walls and the wool costs one run a speaker, by reciprocity. What moving a speaker changes is
// taken from runs of the first state, one a microphone, and what temperature changes is a stretch of the
// frequencies. The room keeps its size.
type roomSolver struct {
	room        *model.Room
	memory      int64 // that a run may take, bytes
	speakers    [2]r3.Vec
	microphones []r3.Vec
	grid        model.Grid // of the runs
	settings    wave.Settings

	states *concurrent.Cache[stateKey, *stateRuns]

	mutex sync.Mutex
	moves []model.Field // by microphone, of the first state
}

// stateKey is what the runs of a state depend on.
type stateKey struct {
	walls       [6]model.WallFit
	resistivity float64
}

// stateRuns are the runs of one state: the fields of the two speakers.
type stateRuns struct {
	room   *wave.Room
	fields [2]model.Field
}

// How a room is solved for a calibration.
const (
	runStep       = 0.5  // Hz
	microphoneOff = 0.25 // how far microphones may turn out to be off, m
	speakerOff    = 0.15 // the same of speakers, m
	statesKept    = 24
	wallStep      = 0.5 // of derivatives, prior deviations: beyond the noise of single precision
)

// newRoomSolver prepares a room with two speakers.
func newRoomSolver(room *model.Room, memory int64, speakers [2]r3.Vec, microphones []r3.Vec) *roomSolver {
	s := &roomSolver{
		room: room, memory: memory, speakers: speakers, microphones: microphones,
		states: concurrent.NewCache[stateKey, *stateRuns](statesKept),
	}
	const from, to = 18, 232 // Hz: beyond what is fitted, by a stretch
	for i := range int((to-from)/runStep) + 1 {
		s.grid = append(s.grid, from+runStep*float64(i))
	}
	s.settings = wave.Settings{Cell: engines.CoarseCell, Fall: engines.CoarseFall, Fits: new(fit.Memory)}
	for _, at := range microphones {
		s.settings.Zones = append(s.settings.Zones, about(at, microphoneOff, room.Size))
	}
	for _, at := range speakers {
		s.settings.Zones = append(s.settings.Zones, about(at, speakerOff, room.Size))
	}
	return s
}

// about returns a zone about a place, within the room.
func about(at r3.Vec, off float64, size r3.Vec) model.Block {
	d := r3.Vec{X: off, Y: off, Z: off}
	return model.Block{Min: geometry.Inside(r3.Sub(at, d), size), Max: geometry.Inside(r3.Add(at, d), size)}
}

// Kind implements [calibration.Solver].
func (s *roomSolver) Kind() model.EngineKind { return model.WaveEngine }

// Knows implements [calibration.Solver].
func (s *roomSolver) Knows() calibration.Knowledge {
	wool := false
	for _, t := range s.room.Treatments {
		for _, l := range t.Layers {
			wool = wool || l.Resistivity > 0
		}
	}
	return calibration.Knowledge{Wool: wool, Step: wallStep, Slow: true}
}

// Solve implements [calibration.Solver].
func (s *roomSolver) Solve(ctx context.Context, grid model.Grid, state calibration.State) (calibration.Solved, error) {
	key := stateKey{state.Walls, state.Resistivity}
	runs, err := s.states.Get(key, func() (*stateRuns, error) { return s.run(ctx, key) })
	if err != nil {
		return nil, err
	}
	if err := s.measureMoves(ctx, runs); err != nil {
		return nil, err
	}
	warm := *s.room
	if warm.Temperature == 0 {
		warm.Temperature = model.ReferenceTemperature
	}
	air := warm.Air()
	warm.Temperature += state.Temperature
	return solvedRoom{s, runs, grid, warm.Air().Speed / air.Speed, air.Density}, nil
}

// run solves a state for both speakers.
func (s *roomSolver) run(ctx context.Context, key stateKey) (*stateRuns, error) {
	room := *s.room
	for f := range room.Walls {
		room.Walls[f].Fit = key.walls[f]
	}
	room.Treatments = nil
	for _, t := range s.room.Treatments {
		layers := make([]model.Layer, len(t.Layers))
		copy(layers, t.Layers)
		for i := range layers {
			layers[i].Resistivity *= key.resistivity
		}
		t.Layers = layers
		room.Treatments = append(room.Treatments, t)
	}
	solved, err := engines.NewRoom(&model.Project{Room: room, Memory: s.memory}, material.Typical, s.grid, s.settings)
	if err != nil {
		return nil, err
	}
	runs := &stateRuns{room: solved}
	for i, at := range s.speakers {
		if runs.fields[i], err = solved.Field(ctx, at); err != nil {
			return nil, err
		}
	}
	return runs, nil
}

// measureMoves runs the first state from each microphone.
func (s *roomSolver) measureMoves(ctx context.Context, runs *stateRuns) error {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for len(s.moves) < len(s.microphones) {
		field, err := runs.room.Field(ctx, s.microphones[len(s.moves)])
		if err != nil {
			return err
		}
		s.moves = append(s.moves, field)
	}
	return nil
}

// solvedRoom is a state of a room at a temperature.
type solvedRoom struct {
	solver  *roomSolver
	runs    *stateRuns
	grid    model.Grid
	stretch float64 // of the frequencies
	density float64 // kg/m³
}

// Responses implements [calibration.Solved].
func (r solvedRoom) Responses(_ context.Context, microphone r3.Vec, speakers [2]r3.Vec) (h [2][]complex128, err error) {
	s := r.solver
	nearest := 0
	for i, at := range s.microphones {
		if r3.Norm2(r3.Sub(at, microphone)) < r3.Norm2(r3.Sub(s.microphones[nearest], microphone)) {
			nearest = i
		}
	}
	microphone = within(microphone, s.settings.Zones[nearest])
	for i, at := range speakers {
		p := r.runs.fields[i].Transfer(nil, microphone)
		if at = within(at, s.settings.Zones[len(s.microphones)+i]); at != s.speakers[i] {
			from := s.moves[nearest].Transfer(nil, s.speakers[i])
			for k, v := range s.moves[nearest].Transfer(nil, at) {
				p[k] += v - from[k]
			}
		}
		for k, f := range s.grid {
			p[k] /= complex(0, f*r.density/2)
		}
		h[i] = make([]complex128, len(r.grid))
		for k, f := range r.grid {
			x := max(0, min(float64(len(p)-2), (f/r.stretch-s.grid[0])/runStep))
			n := int(math.Floor(x))
			h[i][k] = p[n] + complex(x-float64(n), 0)*(p[n+1]-p[n])
		}
	}
	return h, nil
}

// within returns a place moved into a zone.
func within(at r3.Vec, zone model.Block) r3.Vec {
	into := func(x, low, high float64) float64 { return max(low, min(high, x)) }
	return r3.Vec{X: into(at.X, zone.Min.X, zone.Max.X), Y: into(at.Y, zone.Min.Y, zone.Max.Y), Z: into(at.Z, zone.Min.Z, zone.Max.Z)}
}
