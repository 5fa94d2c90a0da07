package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"evenbass/model"
	"evenbass/report/data"
	"evenbass/report/place"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Row is what a batch reports of one room.
type Row struct {
	File      string       `json:"file"`
	Room      string       `json:"room,omitempty"`
	Engine    string       `json:"engine,omitempty"`
	Goal      string       `json:"goal,omitempty"`
	Now       *model.Level `json:"now_db"`             // the spread as things stand; nil if nothing stands
	Best      *model.Level `json:"best_db"`            // the spread of the first layout; nil if the room failed
	Headline  string       `json:"headline,omitempty"` // of the room's own page
	FirstMove string       `json:"first_move,omitempty"`
	Warnings  int          `json:"warnings"`
	Kept      bool         `json:"kept"` // from an earlier run
	Fault     string       `json:"fault,omitempty"`
}

// NewRow returns the row of a room that has been searched.
func NewRow(in *place.Report) Row {
	r := in.Result
	rounded := func(l model.Level) *model.Level {
		l = model.Level(unit.Round(float64(l), 2))
		return &l
	}
	row := Row{
		File: in.Run.File, Room: in.Project.Room.Name, Engine: string(r.Engine.Kind), Goal: r.Goal.String(),
		Best: rounded(r.Candidates[0].Judgement.Spread()), Warnings: len(in.Project.PresentBreaches()) + len(in.AllWarnings()),
	}
	if r.Now != nil {
		row.Now = rounded(r.Now.Judgement.Spread())
	}
	row.Headline, row.FirstMove = place.Headline(in), place.FirstMove(in)
	return row
}

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
	if doc.Format != place.FormatName || doc.Batch == nil || doc.Batch.Row.Best == nil {
		return row, "", errors.New("report: this JSON is not from a batch")
	}
	return doc.Batch.Row, doc.Batch.Fingerprint, nil
}

// Text returns the rows of a batch as a table for a terminal, with the faults below.
// A batch that was stopped has fewer rows than asked for, and says so.
func Text(rows []Row, asked int) string {
	t := text.Table{Head: []string{"room", "engine", "now", "best", "warnings", "first move"}, Align: "llrrrl"}
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
	doc := struct {
		Format  string `json:"format"`
		Version string `json:"version"`
		Missing int    `json:"missing"`
		Rooms   []Row  `json:"rooms"`
	}{"evenbass batch 1", version, asked - len(rows), append([]Row{}, rows...)}
	return data.WriteJSON(w, doc)
}

// CSV writes the rows of a batch as comma-separated values under the names file,
// room, engine, goal, now_db, best_db, first_move, warnings, fault.
func CSV(w io.Writer, rows []Row) error {
	all := [][]string{{"file", "room", "engine", "goal", "now_db", "best_db", "first_move", "warnings", "fault"}}
	cell := func(l *model.Level) string {
		if l == nil {
			return ""
		}
		return data.Level(*l)
	}
	for _, r := range rows {
		all = append(all, []string{r.File, r.Room, r.Engine, r.Goal, cell(r.Now), cell(r.Best), r.FirstMove, fmt.Sprint(r.Warnings), r.Fault})
	}
	return data.WriteRows(w, all)
}
