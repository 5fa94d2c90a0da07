package main

import (
	"fmt"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
)

// welcome is what `evenbass` alone says.
const welcome = `evenbass plans the low end of a small room. What to do first:
  evenbass new room.yaml                 asks about your room and writes its file
  evenbass plan -o plan.html room.yaml   says what to do, step by step, on one page
  evenbass sweep -o sweep.wav room.yaml  writes a test signal and says how to measure
  evenbass help                          lists all commands; evenbass help COMMAND explains one
`

// examples are shown in the help of each command.
var examples = map[string]string{
	"new":       "evenbass new room.yaml\nevenbass new --length '14 ft 2 in' --width '10 ft 9 in' --height '8 ft' room.yaml",
	"check":     "evenbass check room.yaml",
	"plan":      "evenbass plan --quick room.yaml\nevenbass plan -o plan.html --time 2m room.yaml",
	"predict":   "evenbass predict room.yaml\nevenbass predict --table response.csv room.yaml",
	"place":     "evenbass place room.yaml\nevenbass place -o page.html --trials 0 room.yaml",
	"serve":     "evenbass serve room.yaml",
	"map":       "evenbass map -o map.html room.yaml",
	"turn":      "evenbass turn --face left room.yaml",
	"subs":      "evenbass subs -o subs.html room.yaml",
	"sweep":     "evenbass sweep -o sweep.wav room.yaml",
	"measure":   "evenbass measure room.yaml recording.wav --sweep sweep.wav --state bare -o before\nevenbass measure --demo room.yaml -o example",
	"calibrate": "evenbass calibrate room.yaml before-left.txt before-right.txt -o fitted.yaml",
	"compare":   "evenbass compare room.yaml before-left.txt after-left.txt\nevenbass compare room.yaml before-left.txt predicted",
	"absorb":    "evenbass absorb 'film 100 µm, wool 200 mm 6 kPa·s/m², air 100 mm'",
	"whatif":    "evenbass whatif --study gap room.yaml\nevenbass whatif --add 'corner front left 42 cm, wool 6 kPa·s/m²' -o whatif.html room.yaml",
	"stage":     "evenbass stage -o stages.html --write built.yaml room.yaml",
	"build":     "evenbass build -o build.html --csv . room.yaml",
	"batch":     "evenbass batch -o rooms first.yaml second.yaml",

	"help":       "evenbass help place",
	"completion": "source <(evenbass completion bash)",
}

// helpCommand shows the help of the program, or of the command that it is given.
func helpCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "help", Usage: "list the commands, or explain one", ArgsUsage: "[COMMAND]",
		Action: func(c *cli.Context) error {
			if !c.Args().Present() {
				return cli.ShowAppHelp(c)
			}
			for _, known := range c.App.Commands {
				if known.HasName(c.Args().First()) {
					t.Print(arguments.Plain(known.CustomHelpTemplate))
					return nil
				}
			}
			return unknownCommand(c.App, c.Args().First())
		},
	}
}

// completions are the scripts by which a shell completes. Both shells ask the program itself.
var completions = map[string]string{
	"bash": bashCompletion,
	"zsh":  "autoload -U +X bashcompinit && bashcompinit\n" + bashCompletion,
}

const bashCompletion = `_evenbass() {
  local word="${COMP_WORDS[COMP_CWORD]}" asked=("${COMP_WORDS[@]:0:COMP_CWORD}") words
  [[ "$word" == -* ]] && asked+=("$word")
  words=$("${asked[@]}" --generate-bash-completion 2>/dev/null)
  COMPREPLY=($(compgen -W "$words" -- "$word"))
}
complete -o bashdefault -o default -F _evenbass evenbass
`

// completionCommand prints the script by which a shell completes commands and flags.
func completionCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "completion", Usage: "print a script that lets your shell complete commands and flags", ArgsUsage: "bash|zsh",
		Description: "Put the line of the example into the file that your shell reads when it starts.",
		Action: func(c *cli.Context) error {
			script, ok := completions[c.Args().First()]
			if !ok || c.NArg() != 1 {
				return terminal.UsageError{
					Text: fmt.Sprintf("completion knows bash and zsh, have %q", c.Args().First()),
					Hint: "hint: evenbass completion bash",
				}
			}
			t.Print(script)
			return nil
		},
	}
}
