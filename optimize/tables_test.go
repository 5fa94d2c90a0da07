package optimize

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"

	"github.com/google/go-cmp/cmp"
)

// Searches that share tables find what they find alone, and under other rules for the same places ask for
// fewer fields.
func TestTablesServeOtherRules(t *testing.T) {
	t.Parallel()
	p := readProject(t, "spare-room")
	p.Goal.From, p.Goal.To = 45, 200
	other := *p
	other.Listening.Angle = model.Range{Min: 0.7, Max: 1.6}
	tables := new(Tables)
	exact, e := newModal(p.Room.Size), &counted{Engine: newModal(p.Room.Size)}
	asked := func(p *model.Project, tables *Tables) ([]model.Layout, int64) {
		before := e.fields.Load()
		found, err := Layouts(t.Context(), p, exact, Settings{Seed: 1, Population: 24, Generations: 6, Layouts: 1, Wide: e, Tables: tables})
		if err != nil {
			t.Fatal(err)
		}
		return found, e.fields.Load() - before
	}
	asked(p, tables)
	alone, all := asked(&other, nil)
	shared, few := asked(&other, tables)
	if diff := cmp.Diff(alone, shared); diff != "" {
		t.Errorf("with shared tables other layouts (-alone +shared):\n%s", diff)
	}
	if few > all/2 {
		t.Errorf("%d fields of the wide engine asked for with shared tables, %d without", few, all)
	}
}

// A table serves its own engine, goal and places alone.
func TestTablesFind(t *testing.T) {
	t.Parallel()
	p := readProject(t, "spare-room")
	p.Goal.From, p.Goal.To = 45, 100
	problem, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	band := func() *score.Band {
		b, err := score.NewBand(newModal(p.Room.Size), p.Goal)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	mine, d := band(), problem.Domain(0.05, 0.1)
	s := Settings{Wide: mine.Engine, Tables: new(Tables)}
	first, err := s.tabulate(t.Context(), mine, d, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	far, lower := d, p.Goal
	far.Ears += 0.1
	lower.To = 90
	if s.Tables.find(band(), d, p.Goal) != nil || s.Tables.find(mine, far, p.Goal) != nil || s.Tables.find(mine, d, lower) != nil {
		t.Errorf("a table serves another engine, other ears or another goal")
	}
	again := s.Tables.find(mine, d, p.Goal)
	if again == nil || again == first {
		t.Fatalf("found %p for the table %p: want one of its own", again, first)
	}
	var none *Tables
	if none.keep(d, p.Goal, first); none.find(mine, d, p.Goal) != nil {
		t.Error("nil tables keep something")
	}
}
