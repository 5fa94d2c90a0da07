package roomfile

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// malformedBed is how many ways to spoil a room file are tried at least.
const malformedBed = 300

// Each row of malformed.txt spoils a good room in its own way, "what stands there => what stands
// there instead", and below it stands the first fault that the reader of the message sees, with its
// place. In a row \n ends a line of the file.
func TestMalformedRooms(t *testing.T) {
	t.Parallel()
	folder := filepath.Join("testdata", "malformed")
	room, err := os.ReadFile(filepath.Join(folder, "room.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Read(strings.NewReader(string(room)), "room.yaml"); err != nil {
		t.Fatalf("the room to be spoilt is refused: %v", err)
	}
	list, err := os.ReadFile(filepath.Join(folder, "malformed.txt"))
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	spoilt := map[string]string{}
	for _, row := range strings.Split(strings.TrimSpace(string(list)), "\n") {
		if strings.HasPrefix(row, "\t") {
			continue // the message, which is found anew
		}
		text := spoil(t, string(room), row)
		if other, twice := spoilt[text]; twice {
			t.Errorf("%s: the same room as by %s", row, other)
		}
		spoilt[text] = row
		out.WriteString(row + "\n\t" + firstFault(t, row, text) + "\n")
	}
	if len(spoilt) < malformedBed {
		t.Errorf("%d rooms, want %d", len(spoilt), malformedBed)
	}
	golden(t, filepath.Join(folder, "malformed.txt"), out.String())
}

// spoil carries out the edit of a row.
func spoil(t *testing.T, room, row string) string {
	t.Helper()
	was, is, ok := strings.Cut(strings.ReplaceAll(row, `\n`, "\n"), " => ")
	if !ok || strings.Count(room, was) != 1 {
		t.Fatalf("%s: stands %d times in the room, want once, and => after it", row, strings.Count(room, was))
	}
	return strings.Replace(room, was, is, 1)
}

// inside matches what belongs to the program and not to its user: names of packages, types and values.
var inside = regexp.MustCompile(`\b(?:roomfile|model|phrase|quantity|absorber|strconv|goccy|r3|Vec|NaN|nil|map\[|%!)`)

// longestMessage is how many characters a message has at most. Those that list what is known are longer.
const longestMessage = 250

// firstFault reads a room that must be refused and returns the first fault with its place.
func firstFault(t *testing.T, row, text string) string {
	t.Helper()
	p, err := Read(strings.NewReader(text), "room.yaml")
	var e *Error
	if !errors.As(err, &e) || p != nil {
		t.Errorf("%s: taken, with error %v", row, err)
		return ""
	}
	checkPlaces(t, e, strings.Count(text, "\n")+1)
	first, _, _ := strings.Cut(e.Error(), "\n")
	first = strings.TrimPrefix(first, "room.yaml:")
	if m := inside.FindString(first); m != "" {
		t.Errorf("%s: %q belongs to the program: %s", row, m, first)
	}
	if n := len([]rune(first)); n > longestMessage && !strings.Contains(first, "known are") {
		t.Errorf("%s: %d characters: %s", row, n, first)
	}
	return first
}

// The message about an unknown key names each key that is known once, also those that the file holds.
func TestKnownKeysOnce(t *testing.T) {
	t.Parallel()
	for _, path := range demoRooms(t) {
		room, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		_, err = Read(strings.NewReader(string(room)+"\nwhatever: 1\n"), "room.yaml")
		if err == nil {
			t.Fatalf("%s: an unknown key is accepted", path)
		}
		_, known, _ := strings.Cut(err.Error(), "known are ")
		known, _, _ = strings.Cut(known, "\n")
		keys := strings.Split(known, ", ")
		if len(keys) < 10 || len(slices.Compact(slices.Sorted(slices.Values(keys)))) < len(keys) {
			t.Errorf("%s: known are %q, want each once", path, keys)
		}
	}
}
