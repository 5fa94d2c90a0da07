package html

import (
	"crypto/sha256"
	"encoding/hex"
	"evenbass/report/text"
	"fmt"
	"html/template"
	"strings"
)

// TitleBlock is what a page says of itself under its heading.
type TitleBlock struct {
	Rows  []Term
	Notes []string
	Logo  template.URL // "" for none
}

// setTitles fills in the title block and, if the owner gave a title, the page's heading.
func (f *Frame) setTitles(run Run) {
	t := run.Titles
	if t.Title != "" {
		f.Titles.Rows = append(f.Titles.Rows, Term{"Room", f.Heading})
		f.Heading = text.Printable(t.Title)
	}
	for _, row := range []Term{{"Client", t.Client}, {"Project", t.Project}, {"Author", t.Author}} {
		if row.Text != "" {
			f.Titles.Rows = append(f.Titles.Rows, Term{row.Name, text.Printable(row.Text)})
		}
	}
	for _, note := range t.Notes {
		f.Titles.Notes = append(f.Titles.Notes, text.Printable(note))
	}
	f.Titles.Logo = run.Logo
}

// By returns the run with the engine that computed.
func (r Run) By(engine string) Run {
	r.Engine = engine
	return r
}

// sign says what made the page: from which sources the program was built, by which engine and
// seed it computed, and from which room file.
func (f *Frame) sign(run Run) {
	var parts []string
	if run.Version != "" {
		parts = append(parts, "evenbass "+text.Printable(run.Version))
	}
	if run.Engine != "" {
		parts = append(parts, "engine "+text.Printable(run.Engine))
	}
	if run.Seed != "" {
		parts = append(parts, "seed "+run.Seed)
	}
	if run.Hash != "" {
		parts = append(parts, fmt.Sprintf("%s, SHA-256 %s", strings.TrimPrefix(sourceName(run.File), "The "), run.Hash))
	}
	f.Colophon = strings.Join(parts, " · ")
}

// Hash is how a page names the content of a room file: the first 16 figures of its SHA-256, as
// sha256sum prints them.
func Hash(source string) string {
	sum := sha256.Sum256([]byte(source))
	return hex.EncodeToString(sum[:8])
}
