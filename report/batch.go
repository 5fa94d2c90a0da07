package report

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"evenbass/model"
)

// BatchRow is what a batch reports of one room.
type BatchRow struct {
	File      string       `json:"file"`
	Room      string       `json:"room,omitempty"`
	Engine    string       `json:"engine,omitempty"`
	Goal      string       `json:"goal,omitempty"`
	Now       *model.Level `json:"now_db"`  // the spread as things stand; nil if nothing stands
	Best      *model.Level `json:"best_db"` // the spread of the first layout; nil if the room failed
	FirstMove string       `json:"first_move,omitempty"`
	Warnings  int          `json:"warnings"`
	Kept      bool         `json:"kept"` // from an earlier run
	Fault     string       `json:"fault,omitempty"`
}

// NewBatchRow returns the row of a room that has been searched.
func NewBatchRow(in *Input) BatchRow {
	r := in.Result
	rounded := func(l model.Level) *model.Level {
		l = model.Level(round(float64(l), 2))
		return &l
	}
	row := BatchRow{
		File: in.Run.File, Room: in.Project.Room.Name, Engine: r.Engine, Goal: r.Goal.String(),
		Best: rounded(r.Candidates[0].Judgement.Spread()), Warnings: len(in.allWarnings()),
	}
	if r.Now != nil {
		row.Now = rounded(r.Now.Judgement.Spread())
	}
	if len(r.Steps) > 0 {
		row.FirstMove = fmt.Sprintf("%s: %s", stepText(r.Steps[0], in.Style), Spread(r.Steps[0].After))
	}
	return row
}

// BatchNote is what a batch leaves in a room's JSON for a later batch, in [Input.Batch].
type BatchNote struct {
	Fingerprint string   `json:"fingerprint"` // of the room file, the settings and the version
	Row         BatchRow `json:"row"`
}

// ReadBatchRow reads the note of a batch back from a room's JSON. It fails on any other
// document.
func ReadBatchRow(r io.Reader) (row BatchRow, fingerprint string, err error) {
	var doc struct {
		Format string     `json:"format"`
		Batch  *BatchNote `json:"batch"`
	}
	if err := json.NewDecoder(r).Decode(&doc); err != nil {
		return row, "", fmt.Errorf("report: reading a room's JSON: %w", err)
	}
	if doc.Format != FormatName || doc.Batch == nil || doc.Batch.Row.Best == nil {
		return row, "", errors.New("report: this JSON is not from a batch")
	}
	return doc.Batch.Row, doc.Batch.Fingerprint, nil
}

// BatchText returns the rows of a batch as a table for a terminal, with the faults below.
// A batch that was stopped has fewer rows than asked for, and says so.
func BatchText(rows []BatchRow, asked int) string {
	t := table{Head: []string{"room", "engine", "now", "best", "warnings", "first move"}, Align: "llrrrl"}
	var faults, goals []string
	kept := 0
	for _, r := range rows {
		name := printable(r.Room)
		if name == "" {
			name = printable(filepath.Base(r.File))
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
		t.Rows = append(t.Rows, []string{name, r.Engine, spreadOr(r.Now), spreadOr(r.Best), fmt.Sprint(r.Warnings), printable(r.FirstMove)})
	}
	var b strings.Builder
	if len(goals) == 1 {
		b.WriteString("Predicted spread (" + goals[0] + "; worst of left, right, both)\n")
	} else {
		b.WriteString("Predicted spread (each room by its own goal; worst of left, right, both)\n")
	}
	b.WriteString(t.text())
	if kept > 0 {
		fmt.Fprintf(&b, "\n%d of %d rooms kept from an earlier run: file and settings are unchanged.\n", kept, len(rows))
	}
	if missing := asked - len(rows); missing > 0 {
		fmt.Fprintf(&b, "\nYou stopped the batch: %d of %d rooms are missing.\n", missing, asked)
	}
	writeList(&b, "Failed", faults)
	return b.String()
}

func spreadOr(l *model.Level) string {
	if l == nil {
		return "n/a"
	}
	return Spread(*l)
}

// BatchJSON writes the rows of a batch for other programs. "kept" says that a row is from
// an earlier run; "best_db" is null where a room failed, and "fault" says why.
// "missing" is how many of the rooms asked for have no row, since it was stopped by hand.
func BatchJSON(w io.Writer, version string, rows []BatchRow, asked int) error {
	doc := struct {
		Format  string     `json:"format"`
		Version string     `json:"version"`
		Missing int        `json:"missing"`
		Rooms   []BatchRow `json:"rooms"`
	}{"evenbass batch 1", version, asked - len(rows), append([]BatchRow{}, rows...)}
	return writeJSON(w, doc)
}

// BatchCSV writes the rows of a batch as comma-separated values under the names file,
// room, engine, goal, now_db, best_db, first_move, warnings, fault.
func BatchCSV(w io.Writer, rows []BatchRow) error {
	all := [][]string{{"file", "room", "engine", "goal", "now_db", "best_db", "first_move", "warnings", "fault"}}
	cell := func(l *model.Level) string {
		if l == nil {
			return ""
		}
		return level(*l)
	}
	for _, r := range rows {
		all = append(all, []string{r.File, r.Room, r.Engine, r.Goal, cell(r.Now), cell(r.Best), r.FirstMove, fmt.Sprint(r.Warnings), r.Fault})
	}
	return writeRows(w, all)
}
