package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/model/wave"
)

// app is the command line: its commands, and the way arguments reach them.
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
			"explains why, and writes a page to hand over. Start with `evenbass new`.",
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
		sweepCommand(t), measureCommand(t), calibrateCommand(t), compareCommand(t), absorbCommand(t), whatIfCommand(t), stageCommand(t), buildCommand(t), batchCommand(t),
	}
	for _, c := range a.cli.Commands {
		c.OnUsageError = onUsageError
		c.HideHelpCommand = true
		c.CustomHelpTemplate = commandHelp(c)
	}
	a.cli.CustomAppHelpTemplate = appHelp(a.cli)
	return a
}

// run hands the arguments to the command that the first one names.
func (a *app) run(ctx context.Context, args []string) error {
	if len(args) > 0 {
		for _, c := range a.cli.Commands {
			if c.HasName(args[0]) {
				sorted, err := flagsFirst(c, args[1:])
				if err != nil {
					return err
				}
				args = append(args[:1:1], sorted...)
			}
		}
	}
	return a.cli.RunContext(ctx, append([]string{"evenbass"}, args...))
}

func unknownCommand(a *cli.App, name string) error {
	var known []string
	for _, c := range a.Commands {
		known = append(known, c.Name)
	}
	return usageError{
		text: fmt.Sprintf("there is no command %q", name) + meant(name, known),
		hint: "hint: the commands are " + strings.Join(known, ", "),
	}
}

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
		hint: quotesHint(c),
	}
}

// version returns what this program was built from, as far as the build knows.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" && (v == "" || v == "(devel)") {
			return s.Value[:min(12, len(s.Value))]
		}
	}
	return v
}
