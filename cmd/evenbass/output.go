package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// writeFile gives a file its new content as a whole or leaves it as it was: the
// content is written beside it, flushed to the disk and renamed. The path "-" is
// standard output.
func (t *terminal) writeFile(path string, content func(io.Writer) error) (err error) {
	if path == "-" {
		return content(t.stdout)
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".part-*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, cause(err))
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("cannot write %s: %w", path, cause(err))
		}
	}()
	if err = content(f); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Chmod(permissions(path)); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// output is a file that was asked for, "" for not, and what goes into it.
type output struct {
	file  string
	write func(io.Writer) error
}

// deliver writes the files that were asked for, and prints the text unless one of
// them went to standard output.
func (t *terminal) deliver(text func() string, outputs ...output) error {
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

// permissions returns those that a file has or a new one is to have.
func permissions(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}

// cause strips the name of the file written beside from a system error.
func cause(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}

// writable reports early whether a file can be written where it is asked for, so
// that a long search is not lost to a mistyped folder.
func writable(path string) error {
	if path == "" || path == "-" {
		return nil
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return fmt.Errorf("cannot write %s: it is a folder; give the name of a file", path)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".evenbass-*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, cause(err))
	}
	f.Close()
	return os.Remove(f.Name())
}
