// Package reference finds the open data that tests compare with. The data stand in
// shared/reference beside the repository, or where the variable EVENBASS_REFERENCE
// says; they are no part of the project. In goes the name of a file, out comes its
// path. A plain clone has no such folder, so the tests that need it are skipped there;
// `make test` names them.
package reference

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Prefix begins the name of every test that needs the data: that is how `make test`
// finds the tests that it leaves out.
const Prefix = "TestReference"

// File returns the path of a file or folder of the data, by its slash-separated name.
// It skips the test if there is no folder of shared data at all. It fails the test if
// that folder is there and the file is not, or if the test's name lacks [Prefix].
func File(t testing.TB, name string) string {
	t.Helper()
	if !strings.HasPrefix(t.Name(), Prefix) {
		t.Fatalf("reference: the name of a test that needs data must begin with %s, have %s", Prefix, t.Name())
	}
	folder, expected := find(t)
	if !expected {
		t.Skipf("no reference data in %s", folder)
	}
	full := filepath.Join(folder, filepath.FromSlash(name))
	if _, err := os.Stat(full); err != nil {
		t.Fatalf("reference: %v", err)
	}
	return full
}

// Rows returns the rows of a file of the data whose values stand between commas, its heading included.
func Rows(t testing.TB, name string) [][]string {
	t.Helper()
	file, err := os.Open(File(t, name))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// find returns the folder of the data and whether it has to be there.
func find(t testing.TB) (folder string, expected bool) {
	t.Helper()
	if folder := os.Getenv("EVENBASS_REFERENCE"); folder != "" {
		return folder, true
	}
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for at != filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			break
		}
		at = filepath.Dir(at)
	}
	shared := filepath.Join(at, "..", "shared")
	_, err = os.Stat(shared)
	return filepath.Join(shared, "reference"), err == nil
}
