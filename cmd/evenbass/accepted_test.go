package main

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/material"
)

// What check accepts, no other command refuses, but for what check cannot know: places that no layout fits, parts
// of the file that a command needs and this room does without, and rooms too large for the solver.
func TestAcceptedRooms(t *testing.T) {
	t.Parallel()
	rooms := 13
	if os.Getenv("EVENBASS_LONG") != "" {
		rooms = 1500
	}
	bases, err := filepath.Glob(filepath.Join(repository, "testdata", "room", "*.yaml"))
	if err != nil || len(bases) == 0 {
		t.Fatalf("no rooms: %v", err)
	}
	folder, accepted := t.TempDir(), 0
	for seed := range rooms {
		base := bases[seed%len(bases)]
		file, text := mutant(t, base, folder, uint64(seed))
		if code, _ := ask(time.Minute, "check", file); code != terminal.ExitOK {
			continue
		}
		accepted++
		for _, words := range []string{accepting[0], accepting[1], accepting[2+accepted%(len(accepting)-2)]} {
			code, said := ask(150*time.Millisecond, append(strings.Fields(words), file)...)
			if code != terminal.ExitOK && code != terminal.ExitInterrupted && !excused.MatchString(said) {
				t.Errorf("%s with seed %d: check takes it, %s says: %s\n%s", filepath.Base(base), seed, words, said, text)
			}
		}
	}
	if accepted < rooms/5 {
		t.Errorf("%d of %d rooms were accepted", accepted, rooms)
	}
}

// accepting are the commands that are asked: the first two of every room, the others in turn. They are interrupted
// soon after the room was drawn and the solvers were set up.
var accepting = []string{"predict", "place --trials 0", "build", "map", "absorb --from", "whatif", "stage --stay", "subs", "plan --quick", "batch --trials 0"}

// excused are the refusals that check cannot foresee.
var excused = regexp.MustCompile(`does not say where|no layout|--memory|would need about|has no (treatments|subwoofers|stock|options)|nothing to compare|nothing to build`)

// ask runs the program with the arguments and returns its exit code and what it says of a refusal.
func ask(patience time.Duration, args ...string) (int, string) {
	ctx, cancel := context.WithCancel(context.Background()) // as by Ctrl-C
	defer cancel()
	defer time.AfterFunc(patience, cancel).Stop()
	var stdout, stderr bytes.Buffer
	code := run(ctx, terminal.New(&stdout, &stderr), args)
	return code, stderr.String()
}

var (
	numbers       = regexp.MustCompile(`\d+(\.\d+)?`)
	constructions = regexp.MustCompile(strings.Join(material.Names(), "|"))
	goals         = regexp.MustCompile(`(?m)^goal:.*$`)
)

// mutant writes a mutated room file.
func mutant(t *testing.T, base, folder string, seed uint64) (file, text string) {
	t.Helper()
	whole, err := os.ReadFile(base)
	if err != nil {
		t.Fatal(err)
	}
	file, text = filepath.Join(folder, fmt.Sprintf("%d.yaml", seed)), mutated(string(whole), rand.New(rand.NewPCG(seed, 1)))
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return file, text
}

// mutated changes one to three things of a room file: a number, a construction, a line. Its goal is one that is soon
// computed.
func mutated(text string, r *rand.Rand) string {
	text = goals.ReplaceAllString(text, "") + "\ngoal: {from: 40 Hz, to: 90 Hz}\n"
	for range 1 + r.IntN(3) {
		switch r.IntN(8) {
		case 0:
			lines := strings.Split(text, "\n")
			i := r.IntN(len(lines))
			text = strings.Join(append(lines[:i:i], lines[i+1:]...), "\n")
		case 1:
			names := material.Names()
			text = replacedOne(text, constructions, r, func(string) string { return names[r.IntN(len(names))] })
		default:
			factors := []float64{0, 0.01, 0.3, 0.7, 0.9, 0.98, 1.02, 1.1, 1.5, 3, 10}
			factor := factors[r.IntN(len(factors))]
			text = replacedOne(text, numbers, r, func(was string) string {
				v, err := strconv.ParseFloat(was, 64)
				if err != nil {
					panic(err) // the pattern matches numbers alone
				}
				return strconv.FormatFloat(v*factor, 'g', 4, 64)
			})
		}
	}
	return text
}

// replacedOne replaces one of the matches.
func replacedOne(text string, of *regexp.Regexp, r *rand.Rand, with func(string) string) string {
	all := of.FindAllStringIndex(text, -1)
	if len(all) == 0 {
		return text
	}
	at := all[r.IntN(len(all))]
	return text[:at[0]] + with(text[at[0]:at[1]]) + text[at[1]:]
}
