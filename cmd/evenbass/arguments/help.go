package arguments

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"
)

// helpColumns is where lines of help break, in characters.
const helpColumns = 96

// CommandHelp returns what `evenbass COMMAND --help` prints, as a template without actions.
func CommandHelp(c *cli.Command) string {
	var b strings.Builder
	fmt.Fprintf(&b, "evenbass %s: %s\n\nusage: evenbass %s %s\n", c.Name, c.Usage, c.Name, c.ArgsUsage)
	if c.Description != "" {
		fmt.Fprintf(&b, "\n%s\n", c.Description)
	}
	if c.UsageText != "" {
		b.WriteString("\nfor example:\n  " + strings.ReplaceAll(c.UsageText, "\n", "\n  ") + "\n")
	}
	rows := [][2]string{}
	for _, f := range c.Flags {
		rows = append(rows, flagRow(f.(cli.DocGenerationFlag)))
	}
	b.WriteString("\nflags:\n" + columnsOf(append(rows, [2]string{"-h, --help", "show this help"})))
	return literally(b.String())
}

// AppHelp returns what `evenbass` and `evenbass --help` print, as a template without actions.
func AppHelp(a *cli.App) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\nusage: %s\n\n%s\n", a.Name, a.Usage, a.UsageText, a.Description)
	rows := [][2]string{}
	for _, c := range a.Commands {
		rows = append(rows, [2]string{c.Name, c.Usage})
	}
	b.WriteString("\ncommands (`evenbass COMMAND --help` lists the flags of each):\n" + columnsOf(rows))
	b.WriteString("\nflags:\n" + columnsOf([][2]string{{"-h, --help", "show this help"}, {"-v, --version", "show the version and the wave solver's kernel"}}))
	return literally(b.String())
}

// flagRow returns a flag with the value it takes, and its meaning. A word in backquotes in the
// usage names the value.
func flagRow(f cli.DocGenerationFlag) [2]string {
	name := Dashed(f.(cli.Flag).Names()[0])
	usage, takes := f.GetUsage(), "VALUE"
	switch f.(type) {
	case *cli.IntFlag, *cli.Int64Flag:
		takes = "N"
	case *cli.DurationFlag:
		takes = "TIME"
	}
	if parts := strings.SplitN(usage, "`", 3); len(parts) == 3 {
		usage, takes = strings.Join(parts, ""), parts[1]
	}
	if !f.TakesValue() {
		return [2]string{name, usage}
	}
	if given := strings.Trim(f.GetDefaultText(), `"`); given != "" && given != "0" && given != "0s" {
		usage += " (default " + given + ")"
	}
	return [2]string{name + " " + takes, usage}
}

// columnsOf sets names and meanings side by side and wraps the meanings.
func columnsOf(rows [][2]string) string {
	width := 0
	for _, r := range rows {
		width = max(width, len(r[0]))
	}
	var b strings.Builder
	for _, r := range rows {
		line := fmt.Sprintf("  %-*s ", width+1, r[0])
		for _, word := range strings.Fields(r[1]) {
			if len([]rune(line))+1+len([]rune(word)) > helpColumns {
				b.WriteString(strings.TrimRight(line, " ") + "\n")
				line = strings.Repeat(" ", width+4)
			}
			line += word + " "
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	return b.String()
}

// Plain returns the text that a template without actions prints.
func Plain(template string) string {
	return strings.ReplaceAll(template, "{{`{{`}}", "{{")
}

// literally escapes a text that the library would read as a template.
func literally(text string) string {
	return strings.ReplaceAll(text, "{{", "{{`{{`}}")
}
