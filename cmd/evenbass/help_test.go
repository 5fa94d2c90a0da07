package main

import (
	"io"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
)

// commands returns every command of the program.
func commands() []*cli.Command { return newApp(terminal.New(io.Discard, io.Discard)).cli.Commands }

// TestHelp reads the help of every command: each flag is in it, no line is too long for a
// terminal of 100 columns, and nothing of a template shows.
func TestHelp(t *testing.T) {
	for _, c := range commands() {
		text := arguments.CommandHelp(c)
		for _, f := range c.Flags {
			if !strings.Contains(text, "\n  "+arguments.Dashed(f.Names()[0])+" ") {
				t.Errorf("%s: the help lacks %s", c.Name, arguments.Dashed(f.Names()[0]))
			}
		}
		if !strings.Contains(text, "for example:\n  evenbass "+c.Name) && !strings.Contains(text, "(evenbass "+c.Name) {
			t.Errorf("%s: the help has no example", c.Name)
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
