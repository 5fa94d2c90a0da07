package main

import (
	"bytes"
	"context"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenbass/cmd/evenbass/terminal"
)

// exampleRoom is small, so that what searches in it is soon done. exampleTreatments are for the commands about them.
const (
	exampleRoom = `room: {name: Box, length: 3.10 m, width: 2.52 m, height: 2.30 m}
walls: {front: brick plastered, back: brick plastered, left: brick plastered, right: brick plastered, floor: timber on joists, ceiling: plasterboard on joists}
speakers:
  box: {depth: 20 cm, width: 15 cm, height: 25 cm}
  now: {left: [0.50 m, 0.76 m, 1.00 m], right: [0.50 m, 1.76 m, 1.00 m]}
seats:
  - {name: chair, at: [1.60 m, 1.26 m, 1.15 m], may_move: [{x: 1.5 m to 1.8 m}]}
goal: {from: 40 Hz, to: 100 Hz}
`
	exampleTreatments = `treatments:
  - {name: rear layer, wall: back, from: 0.6 m, width: 1.2 m, sill: 0.5 m, height: 1.2 m, layers: [wool 100 mm 6 kPa·s/m², air 50 mm]}
stock:
  batts: [{name: Slab, material: wool 6 kPa·s/m² 14 kg/m³, size: 1200 mm x 600 mm x 100 mm, have: 2}]
`
	exampleSubwoofers = `subwoofers: {count: 1, box: {depth: 30 cm, width: 30 cm, height: 30 cm}}
`
)

// TestExamples runs what the help of each command shows, in a folder that holds the files it names, but for what needs
// a browser, a shell or somebody who answers. Those that search for long are stopped as soon as they have understood
// their flags and files; their own scripts run them to the end.
func TestExamples(t *testing.T) {
	silent := func(args ...string) {
		t.Helper()
		var errs bytes.Buffer
		if code := run(context.Background(), terminal.New(io.Discard, &errs), args); code != 0 {
			t.Fatalf("%q ends with code %d:\n%s", args, code, errs.String())
		}
	}
	made := t.TempDir()
	t.Chdir(made)
	write(t, "first.yaml", exampleRoom)
	write(t, "second.yaml", exampleRoom)
	write(t, "room.yaml", exampleRoom+exampleTreatments) // a pair of measurements is invented for what treatments change
	silent("sweep", "-o", "sweep.wav", "--parts", "left", "--length", "2", "room.yaml")
	silent("measure", "--demo", "room.yaml", "-o", "demo")
	for _, name := range []string{"before-left.txt", "before-right.txt", "after-left.txt"} {
		copyFile(t, "demo-"+name, name)
	}
	copyFile(t, "sweep.wav", "recording.wav")
	more := map[string]string{"whatif": exampleTreatments, "stage": exampleTreatments, "build": exampleTreatments, "subs": exampleSubwoofers}
	long := []string{"batch", "place", "plan", "stage", "whatif"}
	stopped, stop := context.WithCancel(context.Background())
	stop()

	for _, command := range slices.Sorted(maps.Keys(examples)) {
		for line := range strings.Lines(examples[command]) {
			line = strings.TrimSpace(line)
			if command == "serve" || command == "completion" || line == "evenbass new room.yaml" {
				continue
			}
			folder := t.TempDir()
			if err := os.CopyFS(folder, os.DirFS(made)); err != nil {
				t.Fatal(err)
			}
			t.Chdir(folder)
			args := words(line)[1:]
			switch command {
			case "new":
				if err := os.Remove("room.yaml"); err != nil {
					t.Fatal(err)
				}
			case "measure":
				if slices.Contains(args, "recording.wav") { // the signal itself, which has two channels
					args = append(args, "--channel", "1")
				}
			default:
				write(t, "room.yaml", exampleRoom+more[command])
			}
			ctx, want := context.Background(), 0
			if slices.Contains(long, command) {
				ctx, want = stopped, 130
			}
			var errs bytes.Buffer
			if code := run(ctx, terminal.New(io.Discard, &errs), args); code != want {
				t.Errorf("`%s` ends with code %d, want %d:\n%s", line, code, want, errs.String())
			}
		}
	}
}

// write and copyFile make files in the folder where the test stands.
func write(t *testing.T, name, content string) {
	t.Helper()
	if err := os.WriteFile(filepath.Clean(name), []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	content, err := os.ReadFile(filepath.Clean(from))
	if err != nil {
		t.Fatal(err)
	}
	write(t, to, string(content))
}
