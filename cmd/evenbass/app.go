package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/model/wave"
)

// app is the command line: its commands, and how arguments reach them.
type app struct {
	cli *cli.App
	t   *terminal
}

func newApp(t *terminal) *app {
	a := &app{t: t, cli: &cli.App{
		Name:      "evenbass",
		Usage:     "plan the low end of a small room",
		UsageText: "evenbass COMMAND [FLAGS] ROOM.yaml",
		Description: "Finds the places for loudspeakers and listener that give the most even bass,\n" +
			"says why, and writes a page to hand over. Start with `evenbass new`.",
		Version:         version() + " (wave kernel: " + wave.Kernel() + ")",
		HideHelpCommand: true,
		Writer:          t.stdout, ErrWriter: t.stderr,
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError:   onUsageError,
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return unknownCommand(c.App, c.Args().First())
			}
			return cli.ShowAppHelp(c)
		},
	}}
	a.cli.Commands = []*cli.Command{
		newCommand(t), checkCommand(t), predictCommand(t), placeCommand(t), mapCommand(t), turnCommand(t), subsCommand(t),
		absorbCommand(t), whatIfCommand(t), stageCommand(t), buildCommand(t), batchCommand(t),
	}
	for _, c := range a.cli.Commands {
		c.OnUsageError = onUsageError
		c.HideHelpCommand = true
	}
	return a
}

// run hands the arguments to the command that the first one names.
func (a *app) run(ctx context.Context, args []string) error {
	if len(args) > 0 {
		for _, c := range a.cli.Commands {
			if c.HasName(args[0]) {
				args = append(args[:1:1], flagsFirst(c, args[1:])...)
			}
		}
	}
	return a.cli.RunContext(ctx, append([]string{"evenbass"}, args...))
}

// flagsFirst moves a command's flags before its other arguments, so that both
// `place -o page.html room.yaml` and `place room.yaml -o page.html` work. What
// follows "--" is never a flag.
func flagsFirst(c *cli.Command, args []string) []string {
	takesValue := make(map[string]bool)
	for _, f := range c.Flags {
		_, isBool := f.(*cli.BoolFlag)
		for _, n := range f.Names() {
			takesValue[n] = !isBool
		}
	}
	var flags, rest []string
	for i := 0; i < len(args); i++ {
		arg := args[i]
		if arg == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if len(arg) < 2 || arg[0] != '-' {
			rest = append(rest, arg)
			continue
		}
		flags = append(flags, arg)
		name := strings.TrimLeft(arg, "-")
		if takesValue[name] && i+1 < len(args) {
			i++
			flags = append(flags, args[i])
		}
	}
	return append(append(flags, "--"), rest...)
}

func onUsageError(c *cli.Context, err error, _ bool) error {
	name := "evenbass"
	if c.Command != nil && c.Command.Name != "" && c.Command.Name != "evenbass" {
		name += " " + c.Command.Name
	}
	text := err.Error()
	if flag, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		text = "there is no flag --" + strings.TrimPrefix(flag, "-")
	}
	return usageError{text: text, hint: fmt.Sprintf("hint: `%s --help` lists the flags", name)}
}

func unknownCommand(a *cli.App, name string) error {
	var known []string
	for _, c := range a.Commands {
		known = append(known, c.Name)
	}
	return usageError{
		text: fmt.Sprintf("there is no command %q", name),
		hint: "hint: the commands are " + strings.Join(known, ", "),
	}
}

// oneFile returns a command's single file argument.
func oneFile(c *cli.Context, what string) (string, error) {
	switch c.NArg() {
	case 1:
		return c.Args().First(), nil
	case 0:
		return "", usageError{
			text: fmt.Sprintf("%s needs %s", c.Command.Name, what),
			hint: fmt.Sprintf("hint: evenbass %s %s", c.Command.Name, c.Command.ArgsUsage),
		}
	}
	return "", usageError{
		text: fmt.Sprintf("%s takes one file, not %d: %s", c.Command.Name, c.NArg(), strings.Join(c.Args().Slice(), " ")),
	}
}
