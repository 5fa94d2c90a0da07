package main

import (
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"
)

// commands returns every command of the program.
func commands() []*cli.Command { return newApp(newTerminal(nil, io.Discard, io.Discard)).cli.Commands }

func command(t *testing.T, name string) *cli.Command {
	t.Helper()
	for _, c := range commands() {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("no command %s", name)
	return nil
}

func TestFlagsFirst(t *testing.T) {
	place := command(t, "place")
	for _, c := range []struct{ in, want string }{
		{"room.yaml -o page.html", "-o page.html -- room.yaml"},
		{"-o page.html room.yaml --seed 3", "-o page.html --seed 3 -- room.yaml"},
		{"room.yaml --draws -1", "--draws -1 -- room.yaml"},
		{"-o=page.html room.yaml", "-o=page.html -- room.yaml"},
		{"-o - room.yaml", "-o - -- room.yaml"},
		{"-- -o", "-- -o"},
	} {
		got, err := flagsFirst(place, strings.Fields(c.in))
		if err != nil || !slices.Equal(got, strings.Fields(c.want)) {
			t.Errorf("%s gives %v, %v; want %s", c.in, got, err, c.want)
		}
	}
	for _, in := range []string{"room.yaml -o", "room.yaml --json", "-o --json x.json room.yaml", "-o --json=x room.yaml", "--seed -- room.yaml"} {
		if got, err := flagsFirst(place, strings.Fields(in)); err == nil || exitCode(err) != exitUsage {
			t.Errorf("%s gives %v, %v; want a usage error", in, got, err)
		}
	}
}

func TestUnknownFlag(t *testing.T) {
	place := command(t, "place")
	for name, want := range map[string]string{
		"sead": "there is no flag --sead; did you mean --seed?",
		"unit": "there is no flag --unit; did you mean --units?",
		"hepl": "there is no flag --hepl; did you mean --help?",
		"xyz":  "there is no flag --xyz",
	} {
		if got := unknownFlag(place, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// TestHelp reads the help of every command: each flag is in it, no line is too long for a
// terminal of 100 columns, and nothing of a template shows.
func TestHelp(t *testing.T) {
	for _, c := range commands() {
		text := commandHelp(c)
		for _, f := range c.Flags {
			if !strings.Contains(text, "\n  "+dashed(f.Names()[0])+" ") {
				t.Errorf("%s: the help lacks %s", c.Name, dashed(f.Names()[0]))
			}
		}
		if strings.ContainsAny(text, "`") || strings.Contains(text, "{{") {
			t.Errorf("%s: signs of a template are in the help", c.Name)
		}
		for line := range strings.Lines(text) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > 100 {
				t.Errorf("%s: a line of %d characters: %s", c.Name, n, line)
			}
		}
	}
}
