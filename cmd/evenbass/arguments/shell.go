package arguments

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// Given returns the named flags that were set, with their values quoted for a shell.
func Given(c *cli.Context, names ...string) []string {
	var words []string
	for _, name := range names {
		if c.IsSet(name) {
			words = append(words, Dashed(name)+" "+Quoted(c.String(name)))
		}
	}
	return words
}

func Quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
