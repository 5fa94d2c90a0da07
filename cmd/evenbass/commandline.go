package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/urfave/cli/v2"
)

// given returns those of the named flags that were set, with their values quoted for a
// shell.
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

// readAgain returns the text of a file that has been read before, for the page.
func readAgain(path string) (string, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return "", fmt.Errorf("cannot read %s again: %w", path, cause(err))
	}
	return string(text), nil
}
