package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"evenbass/cmd/evenbass/terminal"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"evenbass": main})
}

// repository is the top folder as seen from this package.
const repository = "../.."

// TestScripts runs every script of testdata/script: one visible behaviour of the
// command line each. The demo rooms are in $ROOMS; the condition "long" holds with EVENBASS_LONG.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join(repository, "testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			rooms, err := filepath.Abs(filepath.Join(repository, "testdata", "room"))
			env.Setenv("ROOMS", rooms)
			return err
		},
		Condition: func(word string) (bool, error) {
			if word != "long" {
				return false, fmt.Errorf("unknown condition %q", word)
			}
			return os.Getenv("EVENBASS_LONG") != "", nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"near": near, "exitcode": exitCodeOf, "lines": countLines, "atmost": atMost,
		},
	})
}

// near checks a number in a file: near FILE REGEXP WANT TOLERANCE. The regexp's
// first group is the number.
func near(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: near FILE REGEXP WANT TOLERANCE")
	}
	m := regexp.MustCompile(args[1]).FindStringSubmatch(ts.ReadFile(args[0]))
	if m == nil {
		ts.Fatalf("%s: nothing matches %s", args[0], args[1])
	}
	got, err := strconv.ParseFloat(m[1], 64)
	ts.Check(err)
	want, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	tolerance, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	if math.Abs(got-want) > tolerance {
		ts.Fatalf("%s is %v, want %v within %v", args[1], got, want, tolerance)
	}
}

// exitCodeOf runs evenbass in this process and checks its exit code:
// exitcode CODE ARGS...
func exitCodeOf(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: exitcode CODE ARGS...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	for i, a := range args {
		if _, err := os.Stat(ts.MkAbs(a)); i > 0 && err == nil {
			args[i] = ts.MkAbs(a)
		}
	}
	if got := run(context.Background(), terminal.New(ts.Stdout(), ts.Stderr()), args[1:]); got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// countLines checks that a file has no fewer lines than given: lines FILE LEAST.
func countLines(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: lines FILE LEAST")
	}
	least, err := strconv.Atoi(args[1])
	ts.Check(err)
	n := 0
	for _, c := range ts.ReadFile(args[0]) {
		if c == '\n' {
			n++
		}
	}
	if n < least {
		ts.Fatalf("%s has %d lines, want %d", args[0], n, least)
	}
}

// atMost checks that a file has no more lines than given: atmost FILE MOST.
func atMost(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: atmost FILE MOST")
	}
	most, err := strconv.Atoi(args[1])
	ts.Check(err)
	if n := strings.Count(ts.ReadFile(args[0]), "\n"); n > most {
		ts.Fatalf("%s has %d lines, want %d at most", args[0], n, most)
	}
}
