package roomfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// Read reads a room file. Errors call the file by the name.
//
// A file that is wrong gives an [*Error] with all that is wrong in it: what cannot be
// read, and what [model.Project.Validate] finds. If the reader fails, the
// error wraps its own. A project without errors carries its warnings in Warnings.
func Read(r io.Reader, name string) (*model.Project, error) {
	d := &document{collector: collector{file: name}, places: map[string]position{}}
	text, err := source(r, &d.collector)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", name, err)
	}
	if len(d.faults) > 0 {
		return nil, d.err()
	}
	root := tree(text, &d.collector)
	if root == nil {
		return nil, d.err()
	}
	p := defaults()
	d.mapping(root, "", func(f *form) { file(f, p) })
	d.validate(p)
	if err := d.err(); err != nil {
		return nil, err
	}
	p.Warnings = warnings(p)
	return p, nil
}

// ReadFile reads the room file at a path and returns its text too; see [Read]. A named pipe
// waits here until somebody writes into it.
func ReadFile(path string) (p *model.Project, text string, err error) {
	f, err := open(path)
	if err != nil {
		return nil, "", err
	}
	defer f.Close()
	var b strings.Builder
	p, err = Read(io.TeeReader(f, &b), path)
	return p, b.String(), err
}

func open(path string) (*os.File, error) {
	f, err := os.Open(path)
	if err != nil {
		var fault *fs.PathError
		if errors.As(err, &fault) {
			err = fault.Err
		}
		return nil, fmt.Errorf("cannot read the room file %s: %w", path, err)
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, fmt.Errorf("%s is a folder; give the name of a room file", path)
	}
	return f, nil
}

// validate adds the problems of the project, but for those of values that could
// not be read in the first place.
func (d *document) validate(p *model.Project) {
	read := len(d.faults)
	for _, q := range p.Validate() {
		follows := slices.ContainsFunc(d.meant, func(path string) bool { return within(q.Path, path) || within(path, q.Path) })
		for _, f := range d.faults[:read] {
			follows = follows || within(q.Path, f.Path) || within(f.Path, q.Path) || within(f.Path, q.Beside)
		}
		if !follows {
			d.add(d.place(q.Path), q.Path, quantity.Mistake{What: q.Text})
		}
	}
}

// within reports whether a path is that of a part of the other, or the same.
func within(path, whole string) bool {
	rest, ok := strings.CutPrefix(path, whole)
	return ok && whole != "" && (rest == "" || rest[0] == '.' || rest[0] == '[')
}

// place returns where the thing at a path stands, or the nearest thing around it.
func (d *document) place(path string) position {
	for path != "" {
		if at, ok := d.places[path]; ok {
			return at
		}
		path = path[:max(strings.LastIndexAny(path, ".["), 0)]
	}
	return position{1, 1}
}

// maxBytes is the size above which a file is refused. The longest room file has a
// few hundred lines.
const maxBytes = 1 << 20

// source reads the text of a room file: UTF-8 with any line ends, a byte order mark
// allowed. Anything else is a fault. The error is that of the reader.
func source(r io.Reader, c *collector) (string, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return "", err
	}
	if bytes.HasPrefix(data, []byte("RIFF")) {
		c.add(position{}, "", quantity.Mistake{What: "this is a recording, not a room file", Right: "evenbass measure reads recordings, after the room file"})
		return "", nil
	}
	if bytes.HasPrefix(data, []byte("evenbass measurement")) {
		c.add(position{}, "", quantity.Mistake{What: "this is a measurement, not a room file", Right: "name the room file first, then measurements"})
		return "", nil
	}
	if len(data) > maxBytes {
		c.add(position{}, "", quantity.Mistake{What: "the file is larger than 1 MB", Right: "a room file has a few hundred lines at most"})
		return "", nil
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if strings.TrimSpace(text) == "" {
		c.add(position{}, "", quantity.Mistake{What: "the file is empty", Right: "it needs at least room, walls, speakers and seats"})
		return "", nil
	}
	c.lines = strings.Split(text, "\n")
	if at, m, ok := notText(c.lines); ok {
		c.add(at, "", m)
	}
	return text, nil
}

// notText finds the first character that has no place in a text file.
func notText(lines []string) (position, quantity.Mistake, bool) {
	for i, line := range lines {
		column := 0
		for j, r := range line {
			column++
			at := position{i + 1, column}
			switch {
			case r == utf8.RuneError && !strings.HasPrefix(line[j:], "\ufffd"):
				return at, quantity.Mistake{What: model.Sprintf("byte %#02x is not UTF-8 text", line[j]), Right: "save the file as UTF-8"}, true
			case r == '\t':
				return at, quantity.Mistake{What: "there is a tab here", Right: "use spaces"}, true
			case phrase.Hidden(r):
				return at, quantity.Mistake{What: model.Sprintf("there is a control character here (%U)", r), Right: "is this a text file?"}, true
			}
		}
	}
	return position{}, quantity.Mistake{}, false
}
