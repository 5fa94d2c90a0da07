package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"evenbass/cmd/evenbass/terminal"
)

// TestReadmeCommands runs every evenbass line of the shell blocks in README.md,
// in order, in one folder, as a reader would.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(repository, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	rooms, err := filepath.Abs(filepath.Join(repository, "testdata"))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := os.Symlink(rooms, filepath.Join(folder, "testdata")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	commands := shellCommands(string(text))
	if len(commands) < 4 {
		t.Fatalf("README.md shows only %d commands", len(commands))
	}
	for _, line := range commands {
		var out, errs bytes.Buffer
		if code := run(context.Background(), terminal.New(&out, &errs), words(line)[1:]); code != 0 {
			t.Errorf("`%s` ends with code %d:\n%s", line, code, errs.String())
		}
	}
}

// shellCommands returns the lines of the text's sh blocks that call evenbass,
// without prompt.
func shellCommands(text string) []string {
	var found []string
	inside := false
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "```"):
			inside = line == "```sh"
		case inside:
			line = strings.TrimPrefix(strings.TrimPrefix(line, "$ "), "bin/")
			if strings.HasPrefix(line, "evenbass ") {
				found = append(found, line)
			}
		}
	}
	return found
}

// words splits a command line at spaces, single quotes kept together.
func words(line string) []string {
	var list []string
	for i, part := range strings.Split(line, "'") {
		if i%2 == 1 {
			list = append(list, part)
			continue
		}
		list = append(list, strings.Fields(part)...)
	}
	return list
}
