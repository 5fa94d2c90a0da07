package reference

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// witness stands in for a test and keeps what it was told.
type witness struct {
	testing.TB
	name, said string
}

func (w *witness) Helper()      {}
func (w *witness) Name() string { return w.name }

func (w *witness) Skipf(format string, args ...any) {
	w.said = "skip: " + fmt.Sprintf(format, args...)
	runtime.Goexit()
}

func (w *witness) Fatalf(format string, args ...any) {
	w.said = "fail: " + fmt.Sprintf(format, args...)
	runtime.Goexit()
}

// ask calls File as a test of some name would, and returns the path or what the test
// was told.
func ask(test, file string) string {
	w := &witness{name: test}
	var path string
	done := make(chan struct{})
	go func() {
		defer close(done)
		path = File(w, file)
	}()
	<-done
	return path + w.said
}

// A clone stands in a folder of its own: without shared data a test is skipped, with
// them it gets the path, and data that lack a file are a failure.
func TestFile(t *testing.T) {
	root := filepath.Join(t.TempDir(), "clone")
	inside := filepath.Join(root, "model", "mode")
	for _, dir := range []string{inside} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(root, "go.mod"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Chdir(inside)
	t.Setenv("EVENBASS_REFERENCE", "")
	shared := filepath.Join(root, "..", "shared")
	folder := filepath.Join(shared, "reference")
	expect := func(when, test, want string) {
		t.Helper()
		if got := ask(test, "a.csv"); got != want {
			t.Errorf("%s: %q, want %q", when, got, want)
		}
	}
	expect("misnamed", "TestRoom", "fail: reference: the name of a test that needs data must begin with TestReference, have TestRoom")
	expect("plain clone", "TestReferenceRoom", "skip: no reference data in "+folder)
	if err := os.Mkdir(shared, 0o755); err != nil {
		t.Fatal(err)
	}
	expect("data taken away", "TestReferenceRoom", "fail: reference: stat "+filepath.Join(folder, "a.csv")+": no such file or directory")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, "a.csv"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	expect("data", "TestReferenceRoom", filepath.Join(folder, "a.csv"))
	t.Setenv("EVENBASS_REFERENCE", filepath.Join(folder, "elsewhere"))
	expect("named folder", "TestReferenceRoom", "fail: reference: stat "+filepath.Join(folder, "elsewhere", "a.csv")+": no such file or directory")
}
