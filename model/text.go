package model

import (
	"fmt"
	"strings"
	"unicode"
)

// Printable returns an owner's text made safe for a terminal. Spaces of any kind become
// plain ones; what could steer the terminal or reorder the line becomes a question mark.
// Joiners and direction marks stay: scripts and emoji need them to be read.
func Printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsPrint(r) || joins(r):
			return r
		case unicode.IsSpace(r):
			return ' '
		}
		return '?'
	}, text)
}

// joins reports whether an invisible character shapes or directs its neighbours without
// reordering the rest of the line: joiners, direction marks, tags of a flag.
func joins(r rune) bool {
	return r >= '\u200c' && r <= '\u200f' || r == '\u061c' || r >= '\U000e0020' && r <= '\U000e007f'
}

// Quote returns an owner's text in quotation marks, [Printable]. A text with inch marks in
// it, such as 11'2", takes curved ones.
func Quote(text string) string {
	if text = Printable(text); strings.Contains(text, `"`) {
		return "“" + text + "”"
	}
	return `"` + text + `"`
}

// Sprintf is fmt.Sprintf for messages that hold an owner's text: every string argument is
// [Printable], and %q means [Quote] where fmt would escape joiners and inch marks.
func Sprintf(format string, args ...any) string {
	shown := make([]any, len(args))
	for i, a := range args {
		shown[i] = a
		if s, ok := a.(string); ok {
			shown[i] = owned(s)
		}
	}
	return fmt.Sprintf(format, shown...)
}

// owned is an owner's text on its way into a message.
type owned string

// Format implements [fmt.Formatter].
func (o owned) Format(f fmt.State, verb rune) {
	text := Printable(string(o))
	if verb == 'q' {
		text, verb = Quote(text), 's'
	}
	fmt.Fprintf(f, fmt.FormatString(f, verb), text)
}
