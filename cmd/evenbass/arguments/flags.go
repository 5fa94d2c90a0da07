package arguments

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/roomfile/quantity"
)

// FlagsFirst moves a command's flags before its other arguments, so that both
// `place -o page.html room.yaml` and `place room.yaml -o page.html` work. Nothing after "--" is
// a flag. A flag without its value is an error, and so is an empty word where a file's name should
// stand, as a shell leaves it of a variable that is not set.
func FlagsFirst(c *cli.Command, args []string) ([]string, error) {
	takesValue, takesFile := make(map[string]bool), make(map[string]bool)
	for _, f := range c.Flags {
		_, isBool := f.(*cli.BoolFlag)
		s, isString := f.(*cli.StringFlag)
		for _, n := range f.Names() {
			takesValue[n] = !isBool
			takesFile[n] = isString && (strings.Contains(s.Usage, "`FILE`") || strings.Contains(s.Usage, "`FOLDER`"))
		}
	}
	var flags, rest []string
	for i := 0; i < len(args); i++ {
		arg := args[i]
		if arg == "--" {
			rest = append(rest, args[i+1:]...)
			break
		}
		if arg == "" && strings.Contains(c.ArgsUsage, ".yaml") {
			return nil, terminal.UsageError{Text: "an argument is empty; give the name of a file", Hint: helpHint(c)}
		}
		if len(arg) < 2 || arg[0] != '-' {
			rest = append(rest, arg)
			continue
		}
		flags = append(flags, arg)
		name := strings.TrimLeft(arg, "-")
		if !takesValue[name] {
			continue
		}
		i++
		if i == len(args) || isFlag(args[i], takesValue) || args[i] == "" && takesFile[name] {
			return nil, terminal.UsageError{Text: arg + " needs a value after it", Hint: helpHint(c)}
		}
		flags = append(flags, args[i])
	}
	return append(append(flags, "--"), rest...), nil
}

// isFlag reports whether an argument is one of the flags, or the end of them.
func isFlag(arg string, known map[string]bool) bool {
	name := strings.TrimLeft(arg, "-")
	_, ok := known[strings.SplitN(name, "=", 2)[0]]
	return arg == "--" || ok && name != arg
}

// invalidValue matches the library's message about a value that a flag does not take.
var invalidValue = regexp.MustCompile(`^invalid (?:boolean )?value "(.*)" for (?:flag )?-([^:]+):`)

// OnUsageError replaces the library's messages by our own.
func OnUsageError(c *cli.Context, err error, _ bool) error {
	text := err.Error()
	command := c.Command
	if command == nil || command.Name == "evenbass" {
		command = &cli.Command{}
	}
	if name, ok := strings.CutPrefix(text, "flag provided but not defined: -"); ok {
		text = unknownFlag(command, strings.TrimLeft(name, "-"))
	}
	if m := invalidValue.FindStringSubmatch(text); m != nil {
		text = wrongValue(command, m[2], m[1])
	}
	return terminal.UsageError{Text: text, Hint: helpHint(command)}
}

func helpHint(c *cli.Command) string {
	return fmt.Sprintf("hint: `%s --help` lists the flags", strings.TrimSpace("evenbass "+c.Name))
}

// unknownFlag names a flag that does not exist, and the one that may be meant.
func unknownFlag(c *cli.Command, name string) string {
	known := []string{"help"}
	for _, f := range c.Flags {
		known = append(known, f.Names()...)
	}
	if c.Name == "" {
		known = append(known, "version")
	}
	text := "there is no flag " + Dashed(name)
	if meant := quantity.Nearest(name, known); meant != "" { // without the dashes, which every flag has
		text += "; did you mean " + Dashed(meant) + "?"
	}
	return text
}

// Dashed returns a flag as it is typed.
func Dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}

// Meant asks for the nearest of the known words, if one is near.
func Meant(word string, known []string) string {
	if n := quantity.Nearest(word, known); n != "" {
		return "; did you mean " + n + "?"
	}
	return ""
}

// wrongValue says what value a flag takes.
func wrongValue(c *cli.Command, name, value string) string {
	wanted := "must be something else"
	for _, f := range c.Flags {
		if f.Names()[0] != name {
			continue
		}
		switch f.(type) {
		case *cli.IntFlag, *cli.Int64Flag:
			wanted = "must be a whole number"
		case *cli.Float64Flag:
			wanted = "must be a number"
		case *cli.DurationFlag:
			wanted = "must be a time with its unit, such as 30s or 2m"
		case *cli.BoolFlag:
			wanted = "takes no value"
		}
	}
	return fmt.Sprintf("%s %s, have %q", Dashed(name), wanted, value)
}
