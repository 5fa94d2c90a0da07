package text

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/rivo/uniseg"

	"evenbass/model"
)

// Wrap breaks text between words into lines no longer than width columns of a terminal, all
// but the first indented. A unit stays with its number; a word longer than a line
// is cut.
func Wrap(text string, width int, indent string) string {
	var b strings.Builder
	used := 0
	for i, word := range phrases(text, width-uniseg.StringWidth(indent)) {
		n := uniseg.StringWidth(word)
		switch {
		case i == 0:
		case used+1+n > width:
			b.WriteString("\n" + indent)
			used = uniseg.StringWidth(indent)
		default:
			b.WriteByte(' ')
			used++
		}
		b.WriteString(word)
		used += n
	}
	return b.String()
}

// phrases splits text into words no longer than longest, a number and its unit
// being one.
func phrases(text string, longest int) []string {
	var all []string
	for _, word := range strings.Fields(text) {
		for uniseg.StringWidth(word) > longest {
			first, rest := split(word, longest)
			all = append(all, first)
			word = rest
		}
		last := len(all) - 1
		if last >= 0 && continues(all[last], word) {
			all[last] += " " + word
			continue
		}
		all = append(all, word)
	}
	return all
}

// split cuts a word after as many whole characters as fit into a width, at least one.
func split(word string, width int) (first, rest string) {
	rest, state := word, -1
	for used := 0; rest != ""; {
		_, after, w, next := uniseg.FirstGraphemeClusterInString(rest, state)
		if used += w; used > width && len(rest) < len(word) {
			break
		}
		rest, state = after, next
	}
	return word[:len(word)-len(rest)], rest
}

// continues reports whether a word belongs to the quantity before it: the unit of
// a number, the fraction of an inch, the inches after feet.
func continues(before, word string) bool {
	if endsInDigit(before) {
		return isUnit(word) || strings.Contains(word, "/") && endsInDigit(word)
	}
	return strings.HasSuffix(before, " ft") && word[0] >= '0' && word[0] <= '9'
}

func endsInDigit(word string) bool { return word[len(word)-1] >= '0' && word[len(word)-1] <= '9' }

func isUnit(word string) bool {
	switch strings.Trim(word, "().,;:") {
	case "m", "cm", "dB", "Hz", "s", "ft", "in", "m²", "m³", "sq", "cu", "°C", "°F":
		return true
	}
	return false
}

// Printable returns text that is safe on a terminal, see [model.Printable].
func Printable(text string) string { return model.Printable(text) }

// Sentence returns text with its first letter raised.
func Sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return text
	}
	return string(unicode.ToUpper(first)) + text[size:]
}
