package main

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// given returns the named flags that were set, with their values quoted for a shell.
func given(c *cli.Context, names ...string) []string {
	var words []string
	for _, name := range names {
		if c.IsSet(name) {
			words = append(words, "--"+name+" "+quoted(c.String(name)))
		}
	}
	return words
}

func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
