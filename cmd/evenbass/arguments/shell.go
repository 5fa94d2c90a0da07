package arguments

import (
	"strings"

	"github.com/urfave/cli/v2"
)

// Given returns the named flags that were set, with their values quoted for a shell.
func Given(c *cli.Context, names ...string) []string {
	var words []string
	for _, name := range names {
		on, isBool := c.Value(name).(bool)
		switch {
		case on:
			words = append(words, Dashed(name))
		case c.IsSet(name) && !isBool:
			words = append(words, Dashed(name)+" "+Quoted(c.String(name)))
		}
	}
	return words
}

// Again returns the command line again, quoted for a shell: the command, its arguments, and those of the
// named flags that were set.
func Again(c *cli.Context, flags ...string) string {
	words := append([]string{"evenbass " + c.Command.Name}, Given(c, flags...)...)
	for _, arg := range c.Args().Slice() {
		words = append(words, Quoted(arg))
	}
	return strings.Join(words, " ")
}

// Quoted returns a text as one word of a shell.
func Quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
