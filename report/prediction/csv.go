package prediction

import (
	"fmt"
	"io"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/data"
)

// transferNotes say above the table what its columns hold.
var transferNotes = []string{
	"# level_db is room gain: the level at the seat relative to the same loudspeaker at 1 m in free field. 0 dB means as loud as outdoors at 1 m. Smoothing: none.",
	"# re and im: sound pressure at the seat per volume velocity of the loudspeaker in Pa·s/m³, time factor e^{+jωt}. both: one signal to both loudspeakers.",
	fmt.Sprintf("# A cubic spline through level_db gives the response between rows to %g dB. Rows stand closer where the response bends.", float64(response.RowError)),
}

// CSV writes a pair's transfers over a grid as comma-separated values: notes that begin
// with #, then one row per frequency under one row of names:
//
//	frequency_hz
//	left_re, left_im, left_level_db
//	right_re, right_im, right_level_db
//	both_re, both_im, both_level_db
//
// re and im are the pressure at the seat per unit volume velocity of the
// loudspeaker in Pa·s/m³, time factor e^{+jωt}, to ten digits. level is its room
// gain, not smoothed, in dB relative to the same source at 1 m in the free field
// ([model.RoomGain]); it is empty where the pressure is zero. both is one signal
// over both loudspeakers. A pair that was sent through the speakers' roll-off
// ([response.Pair.Through]) has it in all of these. It panics if a transfer has not the grid's length.
func CSV(w io.Writer, grid model.Grid, air model.Air, pair response.Pair) error {
	if len(pair.Left) != len(grid) || len(pair.Right) != len(grid) {
		panic(fmt.Sprintf("report: transfers of %d and %d values, the grid has %d", len(pair.Left), len(pair.Right), len(grid)))
	}
	header := []string{"frequency_hz"}
	for _, c := range response.Channels {
		header = append(header, c.String()+"_re", c.String()+"_im", c.String()+"_level_db")
	}
	rows := [][]string{header}
	for i, f := range grid {
		row := []string{data.Digits(f)}
		for _, p := range []complex128{pair.Left[i], pair.Right[i], pair.Left[i] + pair.Right[i]} {
			row = append(row, data.Digits(real(p)), data.Digits(imag(p)), data.Level(model.RoomGain(p, f, air)))
		}
		rows = append(rows, row)
	}
	for _, note := range transferNotes {
		if _, err := fmt.Fprintln(w, note); err != nil {
			return fmt.Errorf("report: writing the table: %w", err)
		}
	}
	return data.WriteRows(w, rows)
}
