package study

import (
	"fmt"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"evenbass/model/response"
	"evenbass/optimize/stage"
	"evenbass/optimize/testroom"
)

// With places in the loop, 24 batts never do worse than with pair and seat staying. What they bring by the card and
// in score, and how long each plan takes on the wall and of the processor, is logged as rows of
// optimize/MEASURED.md.
func TestStagesWithPlaces(t *testing.T) {
	if os.Getenv("EVENBASS_LONG") == "" {
		t.Skip("takes minutes; EVENBASS_LONG=1 runs it")
	}
	stock := testroom.Read(t, "spare-room").Stock
	for _, name := range []string{"spare-room", "plain-basement", "planned-room", "l-room", "sloped-attic"} {
		p := testroom.Read(t, name)
		p.Stock, p.Room.Treatments, p.Goal.To = stock, nil, min(p.Goal.To, 200)
		row := []string{name}
		var ends [2]*stage.State
		for i, stay := range []bool{true, false} {
			began, cpu := time.Now(), userTime(t)
			s, err := PlanStages(t.Context(), p, StageSettings{Stay: stay})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			took := fmt.Sprintf("%.0f s, %.0f s", time.Since(began).Seconds(), (userTime(t) - cpu).Seconds())
			if ends[i] = s.Plan.End(); i == 0 {
				row = append(row, cardWords(s.Plan.Now))
			} else {
				row = append(row, cardWords(s.Plan.Start))
			}
			row = append(row, fmt.Sprintf("%d batts: %s", s.Plan.Used(len(s.Plan.Stages)), cardWords(ends[i])), took)
			if o := s.Plan.Other; o != nil {
				row = append(row, fmt.Sprintf("the other, moves %v: %d batts: %s", o.Moves(), o.Used(len(o.Stages)), cardWords(o.End())))
			}
		}
		t.Logf("| %s |", strings.Join(row, " | "))
		if stays, moves := ends[0].Score(), ends[1].Score(); moves > stays+1e-9 {
			t.Errorf("%s: score %.2f with places in the loop, %.2f without", name, moves, stays)
		}
	}
}

// cardWords writes what a state of the room gives.
func cardWords(h *stage.State) string {
	c := &h.Card
	fall, _ := c.Value(response.MeanFallFigure)
	return fmt.Sprintf("%.2f; ±%.1f dB, %.1f dB, %.0f %%, %.0f ms", h.Score(), c.Spread, c.Deviation, 100*c.Within, 1000*fall)
}

// userTime returns the processor time of this process so far.
func userTime(t *testing.T) time.Duration {
	t.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		t.Fatal(err)
	}
	return time.Duration(u.Utime.Nano())
}
