package report

import "strings"

// safeCell keeps a spreadsheet from taking a name for a formula.
func safeCell(name string) string {
	name = printable(name)
	if strings.ContainsAny(name[:min(1, len(name))], "=+-@") {
		return "'" + name
	}
	return name
}
