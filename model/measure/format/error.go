package format

import (
	"fmt"
	"strconv"
)

// Error is what is wrong with a file.
type Error struct {
	File string
	Line int // from 1; 0 is the whole file
	Text string
}

// Error returns "file:line: text".
func (e *Error) Error() string {
	if e.Line == 0 {
		return e.File + ": " + e.Text
	}
	return e.File + ":" + strconv.Itoa(e.Line) + ": " + e.Text
}

// What would be right where a file is no measurement, or no microphone's response, at all.
const (
	needed           = "give a file that evenbass measure saved, columns of frequency and level, or WAV"
	neededCorrection = "give columns of frequency and level"
)

// fault returns an error about a line of a file.
func fault(file string, line int, form string, args ...any) error {
	return &Error{file, line, fmt.Sprintf(form, args...)}
}
