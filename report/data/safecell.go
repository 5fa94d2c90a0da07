package data

import (
	"evenbass/report/text"
	"strings"
)

// SafeCell keeps a spreadsheet from taking a name for a formula.
func SafeCell(name string) string {
	name = text.Printable(name)
	if strings.ContainsAny(name[:min(1, len(name))], "=+-@") {
		return "'" + name
	}
	return name
}
