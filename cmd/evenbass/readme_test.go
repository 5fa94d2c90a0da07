package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"evenbass/cmd/evenbass/terminal"
)

// TestReadmeCommands runs every evenbass line of the shell blocks in README.md,
// in order, in one folder, as a reader would. Then it holds the example rooms that README names to
// the figures at their head.
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
	printed := map[string]string{} // by command and room
	for _, line := range commands {
		var out, errs bytes.Buffer
		if code := run(context.Background(), terminal.New(&out, &errs), words(line)[1:]); code != 0 {
			t.Errorf("`%s` ends with code %d:\n%s", line, code, errs.String())
		}
		args := words(line)
		printed[args[1]+" "+args[len(args)-1]] = out.String()
	}
	for _, name := range exampleRooms(t, string(text)) {
		checkExpected(t, printed, "testdata/room/"+name)
	}
}

// exampleRooms returns the rooms that README says have a story.
func exampleRooms(t *testing.T, readme string) []string {
	t.Helper()
	_, part, _ := strings.Cut(readme, "tell a story")
	part, _, _ = strings.Cut(part, "\n\n")
	names := regexp.MustCompile(`[a-z-]+\.yaml`).FindAllString(part, -1)
	if len(names) != 3 {
		t.Errorf("README names %q as example rooms, want three", names)
	}
	return names
}

// expected matches a line at the head of an example room: a command, and what it prints, but for the
// breaks between lines.
var expected = regexp.MustCompile("(?m)^# Expected of `evenbass ([a-z]+)`: (.+)$")

// checkExpected runs what a room file says of itself, unless README did so already.
func checkExpected(t *testing.T, printed map[string]string, path string) {
	t.Helper()
	room, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows := expected.FindAllSubmatch(room, -1)
	if len(rows) < 2 {
		t.Errorf("%s says of %d figures what to expect, want two or more", path, len(rows))
	}
	for _, row := range rows {
		key := string(row[1]) + " " + path
		if _, ok := printed[key]; !ok {
			var out, errs bytes.Buffer
			if code := run(context.Background(), terminal.New(&out, &errs), []string{string(row[1]), path}); code != 0 {
				t.Errorf("%s ends with code %d:\n%s", key, code, errs.String())
			}
			printed[key] = out.String()
		}
		if text := strings.Join(strings.Fields(printed[key]), " "); !strings.Contains(text, string(row[2])) {
			t.Errorf("%s does not say %q:\n%s", key, row[2], printed[key])
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
