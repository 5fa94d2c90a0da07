package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
)

// tried runs the whole program with the arguments and reports what no command may do: end by a fault of
// its own, fail without a word, or send control characters to a terminal.
func tried(t *testing.T, limit time.Duration, args []string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), limit)
	defer cancel()
	var stdout, stderr bytes.Buffer
	code := run(ctx, terminal.New(&stdout, &stderr), args)
	said := stderr.String()
	known := []int{terminal.ExitOK, terminal.ExitFailed, terminal.ExitUsage, terminal.ExitInterrupted}
	if !slices.Contains(known, code) || code != terminal.ExitOK && !strings.HasPrefix(said, "evenbass: ") {
		t.Errorf("%q: code %d, says %q", args, code, said)
	}
	for _, text := range []string{said, stdout.String()} {
		for line := range strings.Lines(text) {
			if line = strings.TrimSuffix(line, "\n"); model.Printable(line) != line && code != terminal.ExitOK {
				t.Errorf("%q: a terminal gets %q", args, line)
			}
		}
	}
}

// Whatever the arguments, one a line: each command reads its flags, its files and what they name. What
// takes long is interrupted. Nothing outside a folder of the test's own can be named.
func FuzzCommandLine(f *testing.F) {
	room, err := os.ReadFile(filepath.Join(repository, "testdata", "room", "bare-box.yaml"))
	if err != nil {
		f.Fatal(err)
	}
	folder := f.TempDir()
	for _, words := range []string{
		"", "help place", "check room.yaml", "place room.yaml -o page.html --seed 3", "plan --quick room.yaml --json -", "place --time 1ms room.yaml",
		"whatif room.yaml --add", "whatif --add :: room.yaml", "map room.yaml --at 40", "new --length 4 --width 3 --height 2.4", "turn --face left room.yaml",
		"sweep -o sweep.wav", "measure room.yaml none.wav", "compare room.yaml a b", "calibrate room.yaml x.txt", "absorb --list", "build room.yaml --csv out.csv",
		"batch room.yaml room.yaml -o out", "stage --batts -1 room.yaml", "subs room.yaml", "predict --table - room.yaml", "completion bash", "--version",
		"-- -o", "place --seed=1e9 room.yaml", "place --units furlongs room.yaml", "plaec", "place --generate-bash-completion", "serve --port 0 room.yaml --help",
		"check --", "place -o= room.yaml", "check room.yaml\x1b[31m", "check \u202eroom.yaml", "stage room.yaml --budget 10",
	} {
		f.Add(strings.ReplaceAll(words, " ", "\n"))
	}
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsAny(text, `/\`) || strings.Contains(text, "..") || len(text) > 300 {
			t.Skip()
		}
		t.Chdir(folder)
		if err := os.WriteFile("room.yaml", room, 0o600); err != nil {
			t.Fatal(err)
		}
		tried(t, 20*time.Millisecond, strings.Split(text, "\n"))
	})
}

// Whatever the build-up, absorb computes it or says what is wrong with it.
func FuzzAbsorb(f *testing.F) {
	for _, text := range []string{
		"wool 200 mm 6 kPa·s/m²", "film 100 µm, wool 200 mm 6 kPa·s/m² limp, air 50 mm", "slotted 18 mm slots 6 mm open 9 %, wool 60 mm 10 kPa·s/m²",
		"perforated 12 mm holes 5 mm open 3 %, air 1 mm", "panel 8.8 kg/m² damping 150 Pa·s/m stiffness 100 kPa/m, air 20 m", "film 1e-9 µm",
		"wool 1e9 m 1 kPa·s/m²", "air 1e-300 m", "wool 1 mm 1000 kPa·s/m² porosity 1 % tortuosity 1e9", "panel 1e300 kg/m²", "wool", "-", "--", "", ",,",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		tried(t, 5*time.Second, []string{"absorb", "--", text})
	})
}
