package terminal

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// Output is a file that was asked for, "" for none, and what goes into it.
type Output struct {
	File  string
	Write func(io.Writer) error
}

// Deliver writes the files that were asked for, then prints the text unless one of the files
// went to standard output.
func (t *Terminal) Deliver(text func() string, outputs ...Output) error {
	var files []NamedFile
	for _, o := range outputs {
		files = append(files, NamedFile{Name: o.File, File: o.File})
	}
	if err := distinct(files); err != nil {
		return err
	}
	silent := false
	for _, o := range outputs {
		if o.File == "" {
			continue
		}
		silent = silent || o.File == "-"
		if err := t.WriteFile(o.File, o.Write); err != nil {
			return err
		}
	}
	if !silent {
		t.Print(text())
	}
	return nil
}

// NamedFile is an output with what the command line calls it.
type NamedFile struct{ Name, File string }

// Apart reports outputs that would overwrite each other or a file that is read, so that a slip
// of the keyboard loses nothing.
func Apart(outputs []NamedFile, inputs ...string) error {
	for _, out := range outputs {
		for _, in := range inputs {
			if sameFile(out.File, in) {
				return fmt.Errorf("cannot write %s: it is also read; give another name", out.File)
			}
		}
	}
	return distinct(outputs)
}

// distinct reports two outputs that are one file.
func distinct(outputs []NamedFile) error {
	for i, a := range outputs {
		for _, b := range outputs[:i] {
			switch {
			case !sameFile(a.File, b.File):
			case a.File == "-":
				return UsageError{Text: fmt.Sprintf("%s and %s cannot both go to standard output", b.Name, a.Name)}
			default:
				return UsageError{Text: fmt.Sprintf("%s and %s are the same file, %s; give each its own name", b.Name, a.Name, a.File)}
			}
		}
	}
	return nil
}

// sameFile reports whether two paths lead to one file, there already or not. A device, or anything
// else that is no regular file, may be given twice; "-" is one file, and "" none.
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
