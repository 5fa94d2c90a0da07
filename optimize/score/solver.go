package score

import (
	"context"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Solver is an engine over the frequencies of levels and of decays.
type Solver struct {
	model.Engine
	BothGrids
}

// OnlyLevels returns an engine of the same kind over the frequencies of levels alone.
func (s *Solver) OnlyLevels(e model.Engine) model.Engine { return levels{e, s} }

// levels is an engine over part of its frequencies.
type levels struct {
	model.Engine
	solver *Solver
}

// Grid implements [model.Engine].
func (l levels) Grid() model.Grid { return l.solver.LevelGrid }

// Field implements [model.Engine].
func (l levels) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	f, err := l.Engine.Field(ctx, seat)
	return levelsField{f, l.solver}, err
}

type levelsField struct {
	whole  model.Field
	solver *Solver
}

// Transfer implements [model.Field].
func (f levelsField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, len(f.solver.LevelGrid))
	copy(dst, Pick(f.whole.Transfer(nil, source), f.solver.Levels))
	return dst
}
