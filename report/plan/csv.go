package plan

import (
	"fmt"
	"io"

	"evenbass/model/response"
	"evenbass/report/data"
	"evenbass/report/unit"
)

// csvHead names the columns that [CSV] writes.
var csvHead = []string{"after", "spread_db", "deviation_db", "within_6_db", "mean_20_db_decay_s", "batts"}

// CSV writes what each step brings at the main seat, a row for the room now, after moving, and after each
// stage. Batts are those of the stage alone.
func CSV(w io.Writer, r Report) error {
	rows := [][]string{csvHead}
	add := func(name string, c *response.Ranged, batts string) {
		fall := ""
		if c.Fall.Mean > 0 {
			fall = data.Digits(unit.Round(c.Fall.Mean, 4))
		}
		rows = append(rows, []string{
			data.SafeCell(name), data.Level(c.Spread), data.Level(c.Deviation), data.Digits(unit.Round(c.Within, 3)), fall, batts,
		})
	}
	if now := r.Plan.Places.Result.Now; now != nil {
		add("now", &now.Card, "")
	}
	if r.Plan.Moved {
		add("moving", &r.Plan.Places.Result.Candidates[0].Card, "")
	}
	if r.Plan.Stages != nil {
		for i, s := range r.Plan.Stages.Plan.Stages {
			add(fmt.Sprintf("stage %d: %v", i+1, s.Kind), &s.After.Card, fmt.Sprint(s.Batts))
		}
	}
	return data.WriteRows(w, rows)
}
