package text

import (
	"fmt"
	"strings"
)

// Count writes a number of things: "1 piece", "3 pieces", "2 packs of 8".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	first, rest, of := strings.Cut(thing, " of ")
	if of {
		rest = " of " + rest
	}
	return fmt.Sprintf("%d %ss%s", n, first, rest)
}

// OrElse returns a name that is fit to print, or another where there is none.
func OrElse(name, other string) string {
	if name == "" {
		return other
	}
	return Printable(name)
}
