package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"
)

// output is a file that was asked for, "" for none, and what goes into it.
type output struct {
	file  string
	write func(io.Writer) error
}

// deliver writes the files that were asked for, then prints the text unless one of the files
// went to standard output.
func (t *terminal) deliver(text func() string, outputs ...output) error {
	var files []namedFile
	for _, o := range outputs {
		files = append(files, namedFile{o.file, o.file})
	}
	if err := distinct(files); err != nil {
		return err
	}
	silent := false
	for _, o := range outputs {
		if o.file == "" {
			continue
		}
		silent = silent || o.file == "-"
		if err := t.writeFile(o.file, o.write); err != nil {
			return err
		}
	}
	if !silent {
		t.print(text())
	}
	return nil
}

// namedFile is an output with what the command line calls it.
type namedFile struct{ name, file string }

// outputsOf returns the files that a command's flags name.
func outputsOf(c *cli.Context) []namedFile {
	var list []namedFile
	for _, name := range []string{"o", "json", "csv", "write", "table"} {
		if file := c.String(name); file != "" {
			list = append(list, namedFile{dashed(name), file})
		}
	}
	return list
}

// apart reports outputs that would overwrite each other or a file that is read, so that a slip
// of the keyboard loses nothing.
func apart(outputs []namedFile, inputs ...string) error {
	for _, out := range outputs {
		for _, in := range inputs {
			if sameFile(out.file, in) {
				return fmt.Errorf("cannot write %s: it is also read; give another name", out.file)
			}
		}
	}
	return distinct(outputs)
}

// distinct reports two outputs that are one file.
func distinct(outputs []namedFile) error {
	for i, a := range outputs {
		for _, b := range outputs[:i] {
			switch {
			case !sameFile(a.file, b.file):
			case a.file == "-":
				return usageError{text: fmt.Sprintf("%s and %s cannot both go to standard output", b.name, a.name)}
			default:
				return usageError{text: fmt.Sprintf("%s and %s are the same file, %s; give each its own name", b.name, a.name, a.file)}
			}
		}
	}
	return nil
}

// sameFile reports whether two paths lead to one file, there already or not. What is no file
// of a disk, such as a device, may be given twice; "-" is one file, and "" none.
func sameFile(a, b string) bool {
	if a == "" || b == "" || a == "-" || b == "-" {
		return a == b && a != ""
	}
	if info, err := os.Stat(a); err == nil {
		other, err := os.Stat(b)
		return err == nil && info.Mode().IsRegular() && os.SameFile(info, other)
	}
	return resolved(a) == resolved(b)
}

// resolved is the absolute path of a file, with the links of its folder followed.
func resolved(path string) string {
	folder, err := filepath.EvalSymlinks(filepath.Dir(path))
	if err != nil {
		folder = filepath.Dir(path)
	}
	if whole, err := filepath.Abs(folder); err == nil {
		folder = whole
	}
	return filepath.Join(folder, filepath.Base(path))
}
