package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"evenbass/model"
	"evenbass/report/data"
	"evenbass/report/place"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Note is what a batch leaves in a room's JSON for a later batch, in the Batch of a place report.
type Note struct {
	Fingerprint string `json:"fingerprint"` // of the room file, the settings and the version
	Row         Row    `json:"row"`
}

// ReadRow reads the note of a batch back from a room's JSON. It fails on any other
// document.
func ReadRow(r io.Reader) (row Row, fingerprint string, err error) {
	var doc struct {
		Format string `json:"format"`
		Batch  *Note  `json:"batch"`
	}
	if err := json.NewDecoder(r).Decode(&doc); err != nil {
		return row, "", fmt.Errorf("report: reading a room's JSON: %w", err)
	}
	if doc.Format != place.FormatName || doc.Batch == nil || !doc.Batch.Row.whole() {
		return row, "", errors.New("report: this JSON is not from a batch")
	}
	return doc.Batch.Row, doc.Batch.Fingerprint, nil
}

// Text returns the rows of a batch as a table for a terminal, with the faults below.
// A batch that was stopped has fewer rows than asked for, and says so.
func Text(rows []Row, asked int) string {
	t := text.Table{Head: []string{"room", "engine", "now", "best", "caveats", "first move"}, Align: "llrrrl"}
	var faults, goals []string
	kept := 0
	for _, r := range rows {
		name := text.Printable(r.Room)
		if name == "" {
			name = text.Printable(filepath.Base(r.File))
		}
		if r.Fault != "" {
			t.Rows = append(t.Rows, []string{name, "", "", "failed", "", ""})
			if !strings.Contains(r.Fault, r.File) {
				r.Fault = r.File + ": " + r.Fault
			}
			faults = append(faults, r.Fault)
			continue
		}
		if r.Kept {
			kept++
		}
		if len(goals) == 0 || goals[len(goals)-1] != r.Goal {
			goals = append(goals, r.Goal)
		}
		t.Rows = append(t.Rows, []string{name, r.Engine, spreadOr(r.Now), spreadOr(r.Best), fmt.Sprint(r.Warnings), text.Printable(r.FirstMove)})
	}
	var b strings.Builder
	if len(goals) == 1 {
		b.WriteString("Predicted spread (" + goals[0] + "; worst of left, right, both)\n")
	} else {
		b.WriteString("Predicted spread (each room by its own goal; worst of left, right, both)\n")
	}
	b.WriteString(t.Text())
	if kept > 0 {
		fmt.Fprintf(&b, "\n%d of %d rooms kept from an earlier run: file and settings are unchanged.\n", kept, len(rows))
	}
	if missing := asked - len(rows); missing > 0 {
		fmt.Fprintf(&b, "\nYou stopped the batch: %d of %d rooms are missing.\n", missing, asked)
	}
	text.WriteList(&b, "Failed", faults)
	return b.String()
}

func spreadOr(l *model.Level) string {
	if l == nil {
		return "n/a"
	}
	return unit.Spread(*l)
}

// JSON writes the rows of a batch for other programs. "kept" says that a row is from
// an earlier run; "best_db" is null where a room failed, and "fault" says why.
// "missing" is how many of the rooms asked for have no row, since it was stopped by hand.
func JSON(w io.Writer, version string, rows []Row, asked int) error {
	plain := make([]Row, len(rows))
	for i, r := range rows {
		r.Curves = nil
		plain[i] = r
	}
	doc := struct {
		Format  string `json:"format"`
		Version string `json:"version"`
		Missing int    `json:"missing"`
		Rooms   []Row  `json:"rooms"`
	}{"evenbass batch 1", version, asked - len(rows), plain}
	return data.WriteJSON(w, doc)
}

// csvHead names the columns of [CSV].
var csvHead = []string{
	"file", "room", "engine", "goal", "seed", "now_db", "best_db", "least_db", "most_db",
	"left_x_m", "left_y_m", "left_z_m", "right_x_m", "right_y_m", "right_z_m", "seat_x_m", "seat_y_m", "seat_z_m",
	"deviation_db", "within_6_db", "dip_db", "dip_hz", "low_octave_db", "first_move", "warnings", "fault",
}

// CSV writes the rows of a batch as comma-separated values under the names of csvHead: the
// spread now and at best with its range over the likely walls, the places and the card of the
// first layout. What is not known is empty.
func CSV(w io.Writer, rows []Row) error {
	all := [][]string{csvHead}
	for _, r := range rows {
		seed := ""
		if r.Fault == "" {
			seed = fmt.Sprint(r.Seed)
		}
		cells := []string{r.File, r.Room, r.Engine, r.Goal, seed, levelCell(r.Now), levelCell(r.Best), levelCell(r.Least), levelCell(r.Most)}
		cells = append(append(cells, r.Places.cells()...), r.Card.cells()...)
		all = append(all, append(cells, r.FirstMove, fmt.Sprint(r.Warnings), r.Fault))
	}
	return data.WriteRows(w, all)
}

func levelCell(l *model.Level) string {
	if l == nil {
		return ""
	}
	return data.Level(*l)
}

// cells writes places for a table; none leave their cells empty.
func (p *Places) cells() []string {
	list := make([]string, 9)
	if p == nil {
		return list
	}
	for i, v := range [][3]float64{p.Left, p.Right, p.Seat} {
		for j, x := range v {
			list[3*i+j] = strconv.FormatFloat(x, 'f', -1, 64)
		}
	}
	return list
}

// cells writes a card for a table; none leaves its cells empty.
func (c *Card) cells() []string {
	list := make([]string, 5)
	if c == nil {
		return list
	}
	for i, v := range []float64{c.Deviation, c.Within, c.Dip, c.DipAt, c.LowOctave} {
		list[i] = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return list
}
