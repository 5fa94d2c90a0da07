package arguments

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
)

// quotesHint says how to quote a flag's text that the shell has cut at its spaces, or "".
func quotesHint(c *cli.Context) string {
	for _, f := range c.Command.Flags {
		g, ok := f.(*cli.GenericFlag)
		if !ok || !c.IsSet(g.Name) {
			continue
		}
		return fmt.Sprintf("hint: did the shell cut the text after --%s? Put all of it in quotes, as in --%[1]s 'NAME: back wall, wool 100 mm 6 kPa·s/m²'", g.Name)
	}
	return ""
}

// OneFile returns a command's single file argument.
func OneFile(c *cli.Context, what string) (string, error) {
	switch c.NArg() {
	case 1:
		return c.Args().First(), nil
	case 0:
		return "", terminal.UsageError{
			Text: fmt.Sprintf("%s needs %s", c.Command.Name, what),
			Hint: fmt.Sprintf("hint: evenbass %s %s", c.Command.Name, c.Command.ArgsUsage),
		}
	}
	return "", terminal.UsageError{
		Text: fmt.Sprintf("%s takes one file, not %d: %s", c.Command.Name, c.NArg(), strings.Join(c.Args().Slice(), " ")),
		Hint: quotesHint(c),
	}
}

// OutputsOf returns the files that a command's flags name.
func OutputsOf(c *cli.Context) []terminal.NamedFile {
	var list []terminal.NamedFile
	for _, name := range []string{"o", "json", "csv", "write", "table"} {
		if file := c.String(name); file != "" {
			list = append(list, terminal.NamedFile{Name: Dashed(name), File: file})
		}
	}
	return list
}
