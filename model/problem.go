package model

import "strings"

// Problem is one thing that is wrong with a project: where, what, and what would
// be right.
type Problem struct {
	Path   string // in the room file's words: "speakers.box.depth", "blocks[1].to"
	Text   string // lower case, no full stop: "must be above 0, have -3 m"
	Beside string // path of what it collides with; "" for nothing
}

// Problems is a list of problems as an error.
type Problems []Problem

// Error joins the problems, one a line.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, q := range p {
		lines[i] = q.Path + ": " + q.Text
	}
	return strings.Join(lines, "\n")
}
