package cause

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/mode/modetest"
	"evenbass/optimize/score"
)

// In a room with one wall, that wall is found too by an engine that knows no paths
// and no modes, with a second one for each wall made absorbing.
func TestExplainWallsNamesTheOnlyWall(t *testing.T) {
	t.Parallel()
	box, l, goal := oneWall()
	grid := model.NewGrid(35, 160, 24, 0)
	e := modetest.Engine(t, box, grid)
	without := func(f model.Face, at model.Layout) (model.Engine, error) {
		if at != l {
			t.Errorf("asked for %v", at)
		}
		open := box
		open.Walls[f] = model.Plain(1)
		return mode.New(open, grid, mode.Settings{})
	}
	p := &model.Project{Room: model.Room{Size: box.Size}, Goal: goal}
	candidate, err := score.Evaluate(t.Context(), p, e, l, 0)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := Explain(context.Background(), box, e, p, &candidate)
	if err != nil {
		t.Fatal(err)
	}
	want := whole[0].Causes[0].Cure
	for name, c := range map[string]struct {
		walls Walls
		off   float64 // dB of the cure
	}{
		"by the same engine": {Walls{Without: without}, 1e-6},
		// Both ends of the difference are of a room a little longer than it is.
		"by the difference of a rough one": {Walls{Without: rough(box, grid), With: longer(t, box, grid)}, 0.5},
	} {
		dips, err := ExplainWalls(context.Background(), e, c.walls, p, &candidate)
		if err != nil || len(dips) == 0 {
			t.Fatalf("%s: %d dips, %v", name, len(dips), err)
		}
		d := dips[0]
		if len(d.Causes) != 1 || d.Causes[0].Suspect != (Suspect{Boundary: model.Front}) || d.Moves != MovesWithSpeakers {
			t.Errorf("%s: %+v", name, d)
		}
		if math.Abs(float64(d.Causes[0].Cure-want)) > c.off {
			t.Errorf("%s: the cure is %v dB, by modes %v dB", name, d.Causes[0].Cure, want)
		}
	}
}

// longer is the box with its sizes a little off, as a coarse grid may have them.
func longer(t *testing.T, box model.Box, grid model.Grid) model.Engine {
	t.Helper()
	box.Size = r3.Scale(1.004, box.Size)
	e := modetest.Engine(t, box, grid)
	return e
}

// rough is without for the box of longer.
func rough(box model.Box, grid model.Grid) func(model.Face, model.Layout) (model.Engine, error) {
	box.Size = r3.Scale(1.004, box.Size)
	return func(f model.Face, _ model.Layout) (model.Engine, error) {
		open := box
		open.Walls[f] = model.Plain(1)
		return mode.New(open, grid, mode.Settings{})
	}
}

func TestExplainWallsPassesErrors(t *testing.T) {
	t.Parallel()
	box, l, goal := oneWall()
	e := modetest.Engine(t, box, model.NewGrid(35, 160, 24, 0))
	p := &model.Project{Room: model.Room{Size: box.Size}, Goal: goal}
	c, err := score.Evaluate(t.Context(), p, e, l, 0)
	if err != nil {
		t.Fatal(err)
	}
	broken := errors.New("no such wall")
	_, err = ExplainWalls(context.Background(), e,
		Walls{Without: func(model.Face, model.Layout) (model.Engine, error) { return nil, broken }}, p, &c)
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), "without the front wall") {
		t.Errorf("error %v", err)
	}
}
