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
