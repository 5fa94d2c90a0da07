package roomfile

import (
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the goldens instead of comparing with them")

// golden compares a text with the file that holds what it should be.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("%s: -want +got\n%s", path, d)
	}
}

// Each file of testdata/bad is wrong in one way, or in a few; beside it stands what
// the reader of the message sees.
func TestBadFiles(t *testing.T) {
	t.Parallel()
	paths, err := filepath.Glob(filepath.Join("testdata", "bad", "*.yaml"))
	if err != nil || len(paths) < 50 {
		t.Fatalf("found %d bad files, want at least 50: %v", len(paths), err)
	}
	for _, path := range paths {
		name := strings.TrimSuffix(filepath.Base(path), ".yaml")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			p, err := Read(strings.NewReader(string(data)), name+".yaml")
			var e *Error
			if !errors.As(err, &e) || p != nil {
				t.Fatalf("got project %v and error %v, want no project and an *Error", p, err)
			}
			for _, f := range e.Faults {
				if f.Line < 1 || f.Column < 1 || f.What == "" {
					t.Errorf("a fault has no place: %+v", f)
				}
			}
			golden(t, strings.TrimSuffix(path, ".yaml")+".stderr", err.Error()+"\n")
		})
	}
}

// The brief form keeps every place and leaves the lines of the file out.
func TestErrorBrief(t *testing.T) {
	t.Parallel()
	_, err := Read(strings.NewReader("room: {length: 3 m, width: 2.4 m, height: 2.3 m}\n"), "odd.yaml")
	var faults *Error
	if !errors.As(err, &faults) {
		t.Fatalf("%v", err)
	}
	brief := faults.Brief()
	if strings.ContainsAny(brief, "\n|^") || strings.Count(brief, "odd.yaml:1:1: ") != len(faults.Faults) || !strings.Contains(brief, "; odd.yaml") {
		t.Errorf("brief: %q", brief)
	}
}
