package calibration

import (
	"context"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
)

// State is a room as a fit tries it, against the room file.
type State struct {
	Walls       [6]model.WallFit // by Face
	Size        r3.Vec           // above that by tape, m
	Temperature float64          // K above the room file's
	Resistivity float64          // flow resistivity of all wool, as a ratio
}

// Solver solves the states of a room.
type Solver interface {
	Kind() model.EngineKind
	// Solve solves a state for the frequencies of a grid, all of it or its lower part.
	Solve(ctx context.Context, grid model.Grid, s State) (Solved, error)
	// Knows says which unknowns change anything.
	Knows() Knowledge
}

// Knowledge says what a solver can vary.
type Knowledge struct {
	Size bool
	Wool bool
	Step float64 // of a wall's shift and of wool for derivatives, prior deviations
	Slow bool    // so that the fit does with few steps
}

// Solved is a solved room.
type Solved interface {
	// Responses returns the responses re the free field at 1 m from the left and the right speaker to a
	// microphone, all of them where they are asked for.
	Responses(ctx context.Context, microphone r3.Vec, speakers [2]r3.Vec) ([2][]complex128, error)
}

// accuracy bounds what sums over modes leave out, relative to the direct sound.
const accuracy = 1e-3

// boxSolver solves plain rooms by their modes.
type boxSolver struct {
	room  *model.Room
	walls [6]*surface.Scale
	mixed bool // an opening shares a wall, which then has to be put together anew
}

func newBoxSolver(room *model.Room) (*boxSolver, error) {
	out := &boxSolver{room: room, mixed: len(room.Openings) > 0}
	for _, f := range model.Faces {
		var err error
		if out.walls[f], err = surface.NewScale(f.Wall(), room.Walls[f]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Kind implements [Solver].
func (*boxSolver) Kind() model.EngineKind { return model.ModeEngine }

// Knows implements [Solver].
func (*boxSolver) Knows() Knowledge { return Knowledge{Size: true, Step: 0.04} }

// Solve implements [Solver].
func (b *boxSolver) Solve(_ context.Context, grid model.Grid, s State) (Solved, error) {
	box, err := b.box(s)
	if err != nil {
		return nil, err
	}
	e, err := mode.New(box, grid, mode.Settings{Accuracy: accuracy})
	if err != nil {
		return nil, err
	}
	return solvedBox{e, box}, nil
}

// box returns a state as a box.
func (b *boxSolver) box(s State) (model.Box, error) {
	room := *b.room
	room.Calibration = nil
	if room.Temperature == 0 {
		room.Temperature = model.ReferenceTemperature
	}
	room.Temperature += s.Temperature
	box := model.Box{Air: room.Air()}
	if b.mixed {
		for _, f := range model.Faces {
			room.Walls[f].Fit = s.Walls[f]
		}
		var err error
		if box, _, err = surface.Box(&room, 0); err != nil {
			return box, err
		}
	} else {
		for _, f := range model.Faces {
			box.Walls[f] = b.walls[f].Fitted(s.Walls[f], 0)
		}
	}
	box.Size = r3.Add(room.Size, s.Size)
	return box, nil
}

// solvedBox is a box solved by its modes.
type solvedBox struct {
	engine *mode.Engine
	box    model.Box
}

// Responses implements [Solved].
func (b solvedBox) Responses(ctx context.Context, microphone r3.Vec, speakers [2]r3.Vec) (h [2][]complex128, err error) {
	field, err := b.engine.Field(ctx, inside(microphone, b.box.Size))
	if err != nil {
		return h, err
	}
	for i, at := range speakers {
		h[i] = field.Transfer(nil, inside(at, b.box.Size))
		for k, f := range b.engine.Grid() {
			h[i][k] /= complex(0, f*b.box.Air.Density/2)
		}
	}
	return h, nil
}

// inside returns a place moved into a room.
func inside(at, size r3.Vec) r3.Vec {
	const gap = 0.02 // m
	into := func(x, most float64) float64 { return max(gap, min(most-gap, x)) }
	return r3.Vec{X: into(at.X, size.X), Y: into(at.Y, size.Y), Z: into(at.Z, size.Z)}
}
