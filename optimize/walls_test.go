package optimize

import (
	"context"
	"errors"
	"math"
	"strings"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
)

// In a room with one wall, that wall is found too by an engine that knows no paths
// and no modes, with a second one for each wall made absorbing.
func TestExplainWallsNamesTheOnlyWall(t *testing.T) {
	t.Parallel()
	box, l, goal := oneWall()
	grid := model.NewGrid(35, 160, 24, 0)
	e, err := mode.New(box, grid, mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	without := func(f model.Face, at model.Layout) (model.Engine, error) {
		if at != l {
			t.Errorf("asked for %v", at)
		}
		open := box
		open.Walls[f] = model.Plain(1)
		return mode.New(open, grid, mode.Settings{})
	}
	c, err := Evaluate(&model.Project{Room: model.Room{Size: box.Size}, Goal: goal}, e, l, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	dips, err := ExplainWalls(context.Background(), box.Size, e, without, goal, &c)
	if err != nil || len(dips) == 0 {
		t.Fatalf("%d dips, %v", len(dips), err)
	}
	whole, err := Explain(context.Background(), box, e, goal, &c)
	if err != nil {
		t.Fatal(err)
	}
	d, want := dips[0], whole[0]
	if len(d.Causes) != 1 || d.Causes[0].Name != "front wall" || d.Moves != MovesWithSpeakers {
		t.Errorf("%+v", d)
	}
	if math.Abs(float64(d.Causes[0].Cure-want.Causes[0].Cure)) > 1e-6 {
		t.Errorf("the cure is %v dB, by modes %v dB", d.Causes[0].Cure, want.Causes[0].Cure)
	}
}

func TestExplainWallsPassesErrors(t *testing.T) {
	t.Parallel()
	box, l, goal := oneWall()
	e, err := mode.New(box, model.NewGrid(35, 160, 24, 0), mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := Evaluate(&model.Project{Room: model.Room{Size: box.Size}, Goal: goal}, e, l, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	broken := errors.New("no such wall")
	_, err = ExplainWalls(context.Background(), box.Size, e,
		func(model.Face, model.Layout) (model.Engine, error) { return nil, broken }, goal, &c)
	if !errors.Is(err, broken) || !strings.Contains(err.Error(), "without the front wall") {
		t.Errorf("error %v", err)
	}
}

// costly is an engine that wants to be told its layout, and refuses seats before.
type costly struct {
	model.Engine
	told *atomic.Int64
}

func (c costly) Field(r3.Vec) (model.Field, error) { return nil, errors.New("too dear") }

func (c costly) Near(model.Layout) (model.Engine, error) {
	c.told.Add(1)
	return c.Engine, nil
}

// An engine that wants to know the layout is told it once before all is read off, and
// the figures are those that it then gives.
func TestEvaluateTellsTheLayout(t *testing.T) {
	t.Parallel()
	p, e := studioByModes(t)
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1, Z: 1}, Right: r3.Vec{X: 0.7, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.55, Z: 1.2}}
	want, err := Evaluate(p, e, l, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	told := new(atomic.Int64)
	got, err := Evaluate(p, costly{e, told}, l, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if got.Robust != want.Robust || got.Tolerance != want.Tolerance || told.Load() != 1 {
		t.Errorf("robust %v and tolerance %v, want %v and %v; told %d times", got.Robust, got.Tolerance, want.Robust, want.Tolerance, told.Load())
	}
}
