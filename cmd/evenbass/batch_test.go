package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/concurrent"
	"evenbass/report/place"
)

// What is there of a room is kept only if page and JSON are whole and of this fingerprint; else the
// row says why not.
func TestMade(t *testing.T) {
	t.Parallel()
	const page = "<!doctype html><html></html>\n"
	const doc = `{"format": "evenbass places 2", "batch": {"fingerprint": "this", "row": {"file": "a.yaml", "best_db": 5.5}}}`
	for _, c := range []struct{ name, page, doc, why string }{
		{"whole", page, doc, ""},
		{"nothing", "", "", notMade},
		{"no page", "", doc, "a.html is missing"},
		{"no JSON", page, "", "a.json is missing"},
		{"half a page", page[:20], doc, "a.html is not complete"},
		{"half the JSON", page, doc[:60], "a.json is damaged"},
		{"another document", page, `{"format": "evenbass places 2"}`, "a.json is damaged, or not from a batch"},
		{"other settings", page, strings.Replace(doc, "this", "that", 1), "or from other settings"},
	} {
		base := filepath.Join(t.TempDir(), "a")
		for end, text := range map[string]string{".html": c.page, ".json": c.doc} {
			if text == "" {
				continue
			}
			if err := os.WriteFile(base+end, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		row, why := made(base, "this")
		if !strings.Contains(why, c.why) || c.why == "" && (why != "" || row.Best == nil || *row.Best != 5.5) {
			t.Errorf("%s: %q, want %q; row %+v", c.name, why, c.why, row)
		}
	}
}

// A room whose search panics fails, also where the panic is on a goroutine of its own; the
// rooms after it are searched all the same.
func TestBatchGoesOnAfterPanic(t *testing.T) {
	t.Parallel()
	var stdout, stderr bytes.Buffer
	term := terminal.New(&stdout, &stderr)
	a := newApp(term)
	command := a.cli.Command("batch")
	command.Action = func(c *cli.Context) error {
		return runBatch(c, term, func(_ *cli.Context, _ *terminal.Terminal, room roomInput) (place.Report, bool, error) {
			if strings.Contains(room.path, "bare-box") {
				var workers concurrent.Group
				workers.Go(func() { panic("no such wall") })
				workers.Wait()
			}
			return place.Report{}, false, errors.New("no place is legal")
		})
	}
	rooms := filepath.Join(repository, "testdata", "room")
	err := a.run(t.Context(), []string{"batch", filepath.Join(rooms, "bare-box.yaml"), filepath.Join(rooms, "spare-room.yaml")})
	if err == nil || err.Error() != "2 of 2 rooms failed, see above" {
		t.Errorf("error %v", err)
	}
	for _, want := range []string{"bare-box.yaml: internal error: no such wall", "spare-room.yaml: no place is legal"} {
		if !strings.Contains(stdout.String(), want) {
			t.Errorf("%q is not in the table:\n%s", want, &stdout)
		}
	}
	if !strings.Contains(stderr.String(), "TestBatchGoesOnAfterPanic") {
		t.Errorf("the stack is not shown:\n%s", &stderr)
	}
}
