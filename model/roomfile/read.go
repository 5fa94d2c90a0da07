package roomfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"evenbass/model"
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
			follows = follows || within(q.Path, f.Path) || within(f.Path, q.Path)
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
