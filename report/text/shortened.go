package text

import (
	"strings"

	"github.com/rivo/uniseg"
)

// Shortened returns the beginning of words that are wider than so many columns, with a mark
// for what is left out.
func Shortened(words string, columns int) string {
	if uniseg.StringWidth(words) <= columns {
		return words
	}
	out, width := "", 1
	for g := uniseg.NewGraphemes(words); g.Next(); {
		if width += g.Width(); width > columns {
			break
		}
		out += g.Str()
	}
	return strings.TrimRight(out, " ") + "…"
}
