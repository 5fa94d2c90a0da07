package text

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/unit"
)

// OctaveColumn is a response in a table of third octaves.
type OctaveColumn struct {
	Name  string
	Curve []model.Level // smoothed, over the grid, dB
	Mean  model.Level   // that the levels are relative to, dB
}

// OctavesTable lists the levels of one channel in third octaves, a column for each response. It
// panics if a curve has not the grid's length.
func OctavesTable(c response.Channel, goal model.Goal, grid model.Grid, columns []OctaveColumn) Table {
	t := Table{
		Caption: fmt.Sprintf("%s: level in third octaves, dB re the mean of %g to %g Hz", Sentence(ChannelText(c)), goal.From, goal.To),
		Head:    []string{"Hz"},
	}
	for i, column := range columns {
		t.Head = append(t.Head, column.Name)
		for k, o := range response.ThirdOctaves(grid, column.Curve) {
			if i == 0 {
				t.Rows = append(t.Rows, []string{fmt.Sprintf("%g", o.Band)})
			}
			t.Rows[k] = append(t.Rows[k], unit.Decimal(float64(o.Level-column.Mean), 1))
		}
	}
	return t
}

// DecayKey explains what [DecayCell] writes.
const DecayKey = "Brackets: too fast for the filter to resolve. \"slow\": 20 dB take 0.9 s or longer, the limit of this analysis"

// DecayCell writes a time to fall in s as whole milliseconds.
func DecayCell(d response.Decay, fall float64) string {
	switch {
	case d.Slow():
		return "slow"
	case fall == 0:
		return unit.Unknown
	case !d.Resolved():
		return "(" + unit.Decimal(1000*fall, 0) + ")"
	}
	return unit.Decimal(1000*fall, 0)
}
