package study

import (
	"context"
	"testing"

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
