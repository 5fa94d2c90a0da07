package floormap

import (
	"io"
	"strconv"
	"strings"

	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// CSV writes a survey's floor as comma-separated values, one row per place under one
// row of names:
//
//	x_m, y_m, z_m
//	spread_db
//	broken_rule
//	both_level_42.3hz_db, left_..., right_...
//
// The last three are repeated for every frequency of the map. broken_rule is empty
// where the chair may be. Levels are relative to each channel's power mean over the floor
// at the same frequency. Where there is no air, spread and levels are empty.
func CSV(w io.Writer, s *floormap.Survey) error {
	channels := []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone}
	header := []string{"x_m", "y_m", "z_m", "spread_db", "broken_rule"}
	for _, f := range s.Levels.Grid {
		for _, c := range channels {
			header = append(header, c.String()+"_level_"+strconv.FormatFloat(unit.Round(f, 1), 'f', -1, 64)+"hz_db")
		}
	}
	rows := [][]string{header}
	for n := range s.Chair.Len() {
		at := s.Chair.Place(n)
		row := []string{data.Digits(at.X), data.Digits(at.Y), data.Digits(at.Z), data.Level(s.Chair.Spread[n]), strings.TrimSpace(text.RuleText(s.Chair.Rule[n]))}
		for i := range s.Levels.Grid {
			for _, c := range channels {
				row = append(row, data.Level(s.Levels.At(c, n, i)))
			}
		}
		rows = append(rows, row)
	}
	return data.WriteRows(w, rows)
}
