package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/report/reporttest"
)

// answerLines is how much of an answer a scenario keeps: what its reader sees first.
const answerLines = 10

// quickScenario is the one that every run of the tests asks.
const quickScenario = "box-square"

// TestScenarios asks the twelve questions of testdata/scenario and compares the first lines of each
// answer. A scenario is a comment with a question, a command and a judgement whether a careful
// acoustician would sign the answer; then the answer and the room. Judge anew what changes.
func TestScenarios(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(repository, "testdata", "scenario", "*.txt"))
	if err != nil || len(files) != 12 {
		t.Fatalf("%d scenarios (%v), want 12", len(files), err)
	}
	for _, file := range files {
		file, err := filepath.Abs(file)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			if os.Getenv("EVENBASS_LONG") == "" && t.Name() != "TestScenarios/"+quickScenario {
				t.Skip("all twelve take minutes; EVENBASS_LONG=1 runs them")
			}
			askScenario(t, file)
		})
	}
}

// askScenario runs one scenario, in a folder of its own.
func askScenario(t *testing.T, file string) {
	a, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]string{}
	for line := range strings.Lines(string(a.Comment)) {
		if key, value, ok := strings.Cut(line, ": "); ok {
			said[key] = strings.TrimSpace(value)
		}
	}
	if said["question"] == "" || said["command"] == "" || said["judgement"] == "" || len(a.Files) != 2 {
		t.Fatalf("%s needs a question, a command, a judgement, an answer and a room", file)
	}
	t.Chdir(t.TempDir())
	if err := os.WriteFile("room.yaml", a.Files[1].Data, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if code := run(context.Background(), terminal.New(&out, &errs), words(said["command"])); code != 0 {
		t.Fatalf("`%s` ends with code %d:\n%s", said["command"], code, errs.String())
	}
	got := firstLines(out.String())
	if reporttest.Updating() {
		a.Files[0].Data = []byte(got)
		if err := os.WriteFile(file, txtar.Format(a), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(string(a.Files[0].Data), got); d != "" {
		t.Errorf("`%s` (-want +got):\n%s", said["command"], d)
	}
}

// firstLines returns the first lines of a text that are not empty.
func firstLines(text string) string {
	var kept []string
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) != "" && len(kept) < answerLines {
			kept = append(kept, strings.TrimRight(line, "\n"))
		}
	}
	return strings.Join(kept, "\n") + "\n"
}
