package roomfile

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"evenbass/model"
)

// written returns the project as a room file.
func written(t interface{ Fatal(...any) }, p *model.Project) string {
	var b bytes.Buffer
	if err := Write(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// noise is what a length may lose when it is written: the rounding of sums, see
// [model.CleanLength].
var noise = cmpopts.EquateApprox(0, 1e-14)

// What is written reads back the same but for the noise of sums; what was read once, to the
// last bit.
func TestWriteReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyProject().Draw(t, "project")
		text := written(t, p)
		back, err := Read(strings.NewReader(text), "written")
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		if d := cmp.Diff(p, back, noise); d != "" {
			t.Fatalf("%s\n%s", d, text)
		}
		if again, err := Read(strings.NewReader(written(t, back)), "again"); err != nil || !same(back, again) {
			t.Fatalf("%v: %s\n%s", err, cmp.Diff(back, again), text)
		}
	})
}

func demoRooms(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "testdata", "room", "*.yaml"))
	if err != nil || len(paths) < 6 {
		t.Fatalf("found %d rooms, want at least 6: %v", len(paths), err)
	}
	return paths
}

// Every room of the project reads, and reads the same after being written.
func TestRoomsReadBack(t *testing.T) {
	t.Parallel()
	for _, path := range demoRooms(t) {
		p, _, err := ReadFile(path)
		if err != nil {
			t.Error(err)
			continue
		}
		text := written(t, p)
		back, err := Read(strings.NewReader(text), path)
		if err != nil {
			t.Errorf("%v\n%s", err, text)
			continue
		}
		if d := cmp.Diff(p, back); d != "" {
			t.Errorf("%s: %s", path, d)
		}
		if again := written(t, back); again != text {
			t.Errorf("%s: written twice, differs: %s", path, cmp.Diff(text, again))
		}
	}
}

// The form of a written file is pinned by a golden; it has no door swing in it, which
// is derived, and keeps the order of the schema.
func TestWrittenForm(t *testing.T) {
	t.Parallel()
	p, _, err := ReadFile(filepath.Join("..", "..", "testdata", "room", "spare-room.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	golden := filepath.Join("testdata", "spare-room.written.yaml")
	if *update {
		if err := os.WriteFile(golden, []byte(written(t, p)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), written(t, p)); d != "" {
		t.Error(d)
	}
}

func TestQuote(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"brick plastered":  "brick plastered",
		"1.08 m":           "1.08 m",
		"-0.2 m":           "-0.2 m",
		"6 kPa·s/m²":       "6 kPa·s/m²",
		"50° to 70°":       "50° to 70°",
		"":                 `""`,
		"null":             `"null"`,
		"No":               `"No"`,
		"a: b":             `"a: b"`,
		`say "hi" \ there`: `"say \"hi\" \\ there"`,
		" x":               `" x"`,
		"x,y":              `"x,y"`,
		"- x":              `"- x"`,
	} {
		if got := quote(text); got != want {
			t.Errorf("quote(%q) = %s, want %s", text, got, want)
		}
	}
}
