package main

import (
	"context"
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/wave"
)

// app is the command line: its commands, and the way arguments reach them.
type app struct {
	cli *cli.App
	t   *terminal.Terminal
}

func newApp(t *terminal.Terminal) *app {
	a := &app{t: t, cli: &cli.App{
		Name:      "evenbass",
		Usage:     "plan the low end of a small room",
		UsageText: "evenbass COMMAND [FLAGS] ROOM.yaml",
		Description: "Finds the places for loudspeakers and listener that give the most even bass,\n" +
			"explains why, and writes a page to hand over. Start with `evenbass new`.",
		Version:         version() + " (wave kernel: " + wave.Kernel() + ")",
		HideHelpCommand: true, EnableBashCompletion: true,
		Flags:  []cli.Flag{cli.HelpFlag}, // the library adds it only if no command is called help
		Writer: t.Stdout(), ErrWriter: t.Stderr(),
		ExitErrHandler: func(*cli.Context, error) {},
		OnUsageError:   arguments.OnUsageError,
		Action: func(c *cli.Context) error {
			if c.Args().Present() {
				return unknownCommand(c.App, c.Args().First())
			}
			t.Print(welcome)
			return nil
		},
	}}
	a.cli.Commands = []*cli.Command{
		newCommand(t), checkCommand(t), planCommand(t), predictCommand(t), placeCommand(t), serveCommand(t), mapCommand(t), turnCommand(t), subsCommand(t),
		sweepCommand(t), measureCommand(t), calibrateCommand(t), compareCommand(t), absorbCommand(t), whatIfCommand(t), stageCommand(t), buildCommand(t), batchCommand(t),
		helpCommand(t), completionCommand(t),
	}
	for _, c := range a.cli.Commands {
		c.OnUsageError = arguments.OnUsageError
		c.HideHelpCommand = true
		c.UsageText = examples[c.Name]
		c.CustomHelpTemplate = arguments.CommandHelp(c)
	}
	a.cli.CustomAppHelpTemplate = arguments.AppHelp(a.cli)
	return a
}

// completing is the flag by which a shell asks for the words that may follow.
const completing = "--generate-bash-completion"

// run hands the arguments to the command that the first one names.
func (a *app) run(ctx context.Context, args []string) error {
	if len(args) > 0 && args[len(args)-1] != completing {
		for _, c := range a.cli.Commands {
			if c.HasName(args[0]) {
				sorted, err := arguments.FlagsFirst(c, args[1:])
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
	return terminal.UsageError{
		Text: fmt.Sprintf("there is no command %q", name) + arguments.Meant(name, known),
		Hint: "hint: the commands are " + strings.Join(known, ", "),
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
