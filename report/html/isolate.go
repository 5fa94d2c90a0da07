package html

import "regexp"

// leftward matches what keeps its text as it is, scripts, styles, code and tags, or else a run of words of a
// script that is written from right to left.
var leftward = regexp.MustCompile(`(?s)<(?:script|style|pre)\b.*?</(?:script|style|pre)>|<[^>]*>|` + words + `(?:[\s\d"'’.,-]+` + words + `)*`)

const words = `[\p{Hebrew}\p{Arabic}\p{Syriac}\p{Thaana}\p{Nko}]+`

var anyLeftward = regexp.MustCompile(words)

// isolated sets every run of such words apart by the characters FSI and PDI (Unicode Standard Annex 9),
// because a browser draws the numbers and commas that follow such a name before it.
func isolated(page []byte) []byte {
	if !anyLeftward.Match(page) {
		return page
	}
	return leftward.ReplaceAllFunc(page, func(b []byte) []byte {
		if b[0] == '<' {
			return b
		}
		return append(append([]byte("\u2068"), b...), "\u2069"...)
	})
}
