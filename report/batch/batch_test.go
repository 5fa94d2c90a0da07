package batch

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/place"
	"evenbass/report/reporttest"
)

// searchedRoom is what a search leaves of the shared room.
func searchedRoom() place.Report {
	grid, p := reporttest.CoarseGrid(), reporttest.Project()
	return place.Report{Project: p, Grid: grid, Result: reporttest.Result(grid, p), Run: html.Run{File: "spare-room.yaml"}}
}

func fixtureRows() []Row {
	in := searchedRoom()
	row := NewRow(&in)
	now, best := model.Level(12.34), model.Level(8.1)
	row.Now, row.Best = &now, &best
	kept := row
	kept.Room, kept.File, kept.Kept, kept.Now = "", "attic/bare.yaml", true, nil
	return []Row{row, kept, {File: "odd.yaml", Fault: "odd.yaml:3:1: walls: is missing"}}
}

func TestBatchGolden(t *testing.T) {
	t.Parallel()
	reporttest.Golden(t, "batch.txt", Text(fixtureRows(), 3))
	var js, table bytes.Buffer
	if err := JSON(&js, "0.1.0", fixtureRows(), 3); err != nil {
		t.Fatal(err)
	}
	if err := CSV(&table, fixtureRows()); err != nil {
		t.Fatal(err)
	}
	reporttest.Golden(t, "batch.json", js.String())
	reporttest.Golden(t, "batch.csv", table.String())
}

// The index leads to each room's page, shows its curves, and says what failed; names stay text.
func TestIndex(t *testing.T) {
	t.Parallel()
	rows := fixtureRows()
	rows[0].Page, rows[1].Page = "spare room#1.html", "bare.html"
	index := func(rows []Row) string {
		var b bytes.Buffer
		if err := Index(&b, html.Run{Command: "evenbass batch -o out", Version: "0.1.0"}, rows, 4); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	page := index(rows)
	for _, want := range []string{
		`<a href="./spare%20room%231.html"><bdi>Spare room</bdi></a>`, `<a href="./bare.html"><bdi>bare.yaml</bdi></a>`, "±12.3 dB → ±8.1 dB; range ±",
		`id="room-1-drawing"`, "<strong>Failed:</strong> odd.yaml:3:1: walls: is missing", "1 of 3 rooms failed.", "1 of 4 rooms are missing", "seed 1",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q in the index", want)
		}
	}
	if got := strings.Count(page, `<path class="curve now"`); got != 1 {
		t.Errorf("%d present curves, want that of the room where something stands", got)
	}
	rows[0].Room, rows[0].FirstMove, rows[2].Fault = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	if attacked := index(rows); strings.Count(attacked, "<script") != strings.Count(page, "<script") || strings.Contains(attacked, "<img") {
		t.Error("a name became markup")
	}
}

// A batch that was stopped says how many rooms are missing.
func TestStoppedBatch(t *testing.T) {
	t.Parallel()
	if text := Text(fixtureRows(), 7); !strings.Contains(text, "\nYou stopped the batch: 4 of 7 rooms are missing.\n") {
		t.Errorf("the table says\n%s", text)
	}
	var js bytes.Buffer
	if err := JSON(&js, "0.1.0", fixtureRows(), 7); err != nil || !strings.Contains(js.String(), `"missing": 4,`) {
		t.Errorf("error %v, JSON\n%s", err, js.String())
	}
}

// What a batch notes in a room's JSON is read back as it was; other documents are
// refused, and a page made outside a batch has no note.
func TestBatchRowIsReadBack(t *testing.T) {
	t.Parallel()
	in := searchedRoom()
	var plain, noted bytes.Buffer
	if err := place.JSON(&plain, in); err != nil {
		t.Fatal(err)
	}
	in.Batch = Note{"abc", NewRow(&in)}
	if err := place.JSON(&noted, in); err != nil {
		t.Fatal(err)
	}
	row, mark, err := ReadRow(&noted)
	if err != nil || mark != "abc" {
		t.Fatalf("%v, fingerprint %q", err, mark)
	}
	if diff := cmp.Diff(NewRow(&in), row); diff != "" {
		t.Error(diff)
	}
	for _, text := range []string{plain.String(), "{}", "", `{"format": "evenbass places 2", "batch": {}}`} {
		if _, _, err := ReadRow(strings.NewReader(text)); err == nil {
			t.Errorf("read a row from %.40q", text)
		}
	}
}
