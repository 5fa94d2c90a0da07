package study

import (
	"context"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/optimize/engines"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/series"
	"evenbass/optimize/testroom"
)

// The packed field of a plain room covers its zones and the present places, at the heights of
// both, is exact, and fits into a page.
func TestSeriesOfSpareRoom(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	s, err := New(context.Background(), engines.Auto, p)
	if err != nil {
		t.Fatal(err)
	}
	now, _ := p.Now()
	table, err := s.Series(context.Background(), now)
	if err != nil {
		t.Fatal(err)
	}
	if d := table.Domain; !d.Sources[0].X.Contains(now.Left.X) || !d.Sources[1].Y.Contains(now.Right.Y) || len(d.Heights) != 3 || !d.Seats.X.Contains(1.3) || !d.Seats.X.Contains(3.2) {
		t.Errorf("the table covers %+v", table.Domain)
	}
	off, err := table.Off(context.Background(), s.Engine, score.NewReader(s.Engine, p), now.Seat)
	if err != nil || off > series.Accuracy || off == 0 {
		t.Errorf("%v dB off, %v", off, err)
	}
	packed, err := table.Packed()
	if err != nil || len(packed) > largestSeries {
		t.Errorf("%d bytes, %v", len(packed), err)
	}
	t.Logf("%d bytes, %.3f dB off", len(packed), float64(off))
}

// A free pair in an attic, where seats would take a table of two dimensions and dozens of runs,
// is left with the line through the seat asked about.
func TestSeriesDomainOfFreePair(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "attic-free")
	s, err := New(context.Background(), engines.Auto, p)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.seriesDomain()
	if err != nil {
		t.Fatal(err)
	}
	if runs := series.SeatCount(s.Engine, d, series.Usual); runs <= mostSeatRuns || s.seriesRuns() != mostSeatRuns+1 {
		t.Errorf("%d seats, %d runs", runs, s.seriesRuns())
	}
	line := onLine(d, 2.1)
	if runs := series.SeatCount(s.Engine, line, series.Usual); runs > mostSeatRuns || line.Seats.X != d.Seats.X {
		t.Errorf("%d seats on a line over %+v", runs, line.Seats)
	}
	if !geometry.Same(line.Seats.Y.Lo, 2.1) || line.Seats.Y.Length() > 0 {
		t.Errorf("the line is %+v", line.Seats)
	}
}

// Options are tried two at a time unless both change one treatment or wall, or take each other's place.
func TestChanges(t *testing.T) {
	t.Parallel()
	layers := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000}}
	behind := model.Treatment{Name: "wool", Form: model.OnWall, Patch: model.Patch{Face: model.Back, Along: 0.3, Up: 0.5, Width: 1, Height: 1}, Layers: layers}
	box := testroom.Read(t, "bare-box")
	walls := map[model.Face]model.Surface{model.Left: box.Room.Walls[model.Right]}
	box.Options = []model.Option{{Name: "here", Add: []model.Treatment{behind}}, {Name: "there", Add: []model.Treatment{behind}}, {Name: "left", Walls: walls}, {Name: "left too", Walls: walls}}
	box.Options[1].Add[0].Name, box.Options[1].Add[0].Patch.Along = "more wool", 0.8
	for name, c := range map[string]struct {
		project *model.Project
		want    string
	}{
		"box":     {box, "here+left there+left here+left too there+left too"},
		"planned": {testroom.Read(t, "planned-room"), "rear layer doubled+no front corners rear layer 100 mm off the wall+no front corners wool before the rear film+no front corners rear layer doubled+no bag rear layer 100 mm off the wall+no bag wool before the rear film+no bag no front corners+no bag"},
	} {
		s := &Study{Project: c.project}
		var pairs []string
		for _, change := range s.changes(true)[len(c.project.Options):] {
			pairs = append(pairs, strings.Join(change.names, "+"))
		}
		if got := strings.Join(pairs, " "); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
		if n := len(s.changes(false)); n != len(c.project.Options) {
			t.Errorf("%s: %d changes without pairs", name, n)
		}
	}
}
