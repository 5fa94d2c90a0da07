package optimize

import (
	"context"

	"evenbass/model"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
)

type modal = testroom.Cosine

// The rooms of the tests.
var (
	newModal    = testroom.New
	studio      = testroom.Studio
	freeStudio  = testroom.FreeStudio
	small       = testroom.Small
	sofaRoom    = testroom.SofaRoom
	readProject = testroom.Read
	nook        = testroom.Nook
	long        = testroom.Long
)

// plainEngine hides TransferGrid.
type plainEngine struct{ *modal }

func (e plainEngine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	f, err := e.modal.Field(ctx, seat)
	return struct{ model.Field }{f}, err
}

// afterCalls calls a function once a task of a search has been reported so many times.
func afterCalls(task string, calls int, then func()) model.Progress {
	return func(at string, _ float64) {
		if at == task {
			if calls--; calls == 0 {
				then()
			}
		}
	}
}
