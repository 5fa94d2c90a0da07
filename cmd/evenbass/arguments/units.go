package arguments

import (
	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/report/unit"
)

// UnitsFlag is the flag for the units of what is printed.
func UnitsFlag() cli.Flag {
	return &cli.StringFlag{Name: "units", Value: "metric", Usage: "`UNITS` to print: metric, imperial or both"}
}

// UnitStyle returns the units that were asked for.
func UnitStyle(c *cli.Context) (unit.Style, error) {
	style, err := unit.ParseStyle(c.String("units"))
	if err != nil {
		return 0, terminal.UsageError{Text: err.Error()}
	}
	return style, nil
}

// FullFlag is the flag of commands whose text otherwise holds only what comes first.
func FullFlag() cli.Flag {
	return &cli.BoolFlag{Name: "full", Usage: "print all figures and caveats, not only what comes first"}
}
