package study

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
)

// A spline through the rows of a table against the engine itself in steps of 0.05 Hz, of the
// same run where that is a run: twice what is promised at most. Deeper than 40 dB below the loudest
// level a null may be narrower than rows can be.
func TestSplineThroughTransfers(t *testing.T) {
	rooms := []string{"spare-room", "l-room"}
	if testroom.Long() {
		rooms = append(rooms, "treated-room", "concrete-cellar")
	}
	for _, name := range rooms {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := testroom.Read(t, name)
			s, err := New(t.Context(), engines.Auto, p)
			if err != nil {
				t.Fatal(err)
			}
			now, _ := p.Now()
			table, err := s.Transfers(t.Context(), now)
			if err != nil {
				t.Fatal(err)
			}
			var fine model.Grid
			for f := 20.0; f <= 315; f += 0.05 {
				fine = append(fine, f)
			}
			e, err := s.over(fine, now)
			if err != nil {
				t.Fatal(err)
			}
			field, err := e.Field(t.Context(), now.Seat)
			if err != nil {
				t.Fatal(err)
			}
			pair := response.Pair{Left: field.Transfer(nil, now.Left), Right: field.Transfer(nil, now.Right)}
			pair = pair.Through(p.Speakers.RollOff(), fine)
			for _, c := range response.Channels {
				levels := roomGains(pair.Of(c), fine, e.Air())
				var spline interp.NotAKnotCubic
				if err := spline.Fit(table.Grid, roomGains(table.Pair.Of(c), table.Grid, e.Air())); err != nil {
					t.Fatal(err)
				}
				worst, at, loudest := 0.0, 0.0, math.Inf(-1)
				for _, l := range levels {
					loudest = max(loudest, l)
				}
				for i, f := range fine {
					if off := math.Abs(spline.Predict(f) - levels[i]); off > worst && levels[i] > loudest-40 {
						worst, at = off, f
					}
				}
				t.Logf("%v: %d rows, the engine's grid has %d; %.3f dB at worst, at %.2f Hz", c, len(table.Grid), len(s.Engine.Grid()), worst, at)
				if worst > 2*float64(response.RowError) {
					t.Errorf("%v: a spline is %.2f dB off at %.2f Hz", c, worst, at)
				}
			}
		})
	}
}

// roomGains returns the levels that the table shows, dB.
func roomGains(p []complex128, grid model.Grid, air model.Air) []float64 {
	var list []float64
	for i, f := range grid {
		list = append(list, float64(model.RoomGain(p[i], f, air)))
	}
	return list
}
