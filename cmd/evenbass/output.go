package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// writeFile gives a file its new content as a whole or leaves it as it was: the
// content is written beside it, flushed to the disk and renamed. The path "-" is
// standard output. Where a link leads is what is written; what is no file of a disk, such
// as a device, is written into and never replaced.
func (t *terminal) writeFile(path string, content func(io.Writer) error) (err error) {
	if path == "-" {
		err := content(t.stdout)
		return cmp.Or(t.stdout.fault(), err)
	}
	if target, err := filepath.EvalSymlinks(path); err == nil {
		path = target
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return writeInto(path, content)
	}
	if err := folderThere(path); err != nil {
		return err
	}
	f, err := t.part(path)
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, bare(err))
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("cannot write %s: %w", path, bare(err))
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
	return t.whole(f.Name(), path)
}

// whole gives a part that is whole its place.
func (t *terminal) whole(part, path string) error {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	t.parts = slices.DeleteFunc(t.parts, func(name string) bool { return name == part })
	return os.Rename(part, path)
}

// part makes the file beside another in which its content is gathered.
func (t *terminal) part(path string) (*os.File, error) {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".part-*")
	if err == nil {
		t.parts = append(t.parts, f.Name())
	}
	return f, err
}

// abandon says that the program ends at once, and leaves no file half written. Nothing can
// be written after it.
func (t *terminal) abandon() {
	t.mutex.Lock() // and never unlock: no further part is begun
	for _, name := range t.parts {
		os.Remove(name)
	}
	t.note("ended at once; what was not written yet is lost")
}

// writeInto writes to what is no regular file.
func writeInto(path string, content func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err == nil {
		err = errors.Join(content(f), f.Close())
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, bare(err))
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

// bare strips the name of the file written beside from a system error.
func bare(err error) error {
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

// folderThere reports the folder that is missing, or that is a file.
func folderThere(path string) error {
	dir := filepath.Dir(path)
	switch info, err := os.Stat(dir); {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("cannot write %s: there is no folder %s; make it first", path, dir)
	case errors.Is(err, syscall.ENOTDIR), err == nil && !info.IsDir():
		return fmt.Errorf("cannot write %s: %s is a file, not a folder", path, dir)
	}
	return nil
}

// writable reports early whether a file can be written where it is asked for, so
// that a long search is not lost to a mistyped folder.
func writable(path string) error {
	if path == "" || path == "-" {
		return nil
	}
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return fmt.Errorf("cannot write %s: it is a folder; give the name of a file", path)
	case err == nil && !info.Mode().IsRegular():
		return nil // a device says for itself what it takes
	}
	if err := folderThere(path); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".evenbass-*")
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, bare(err))
	}
	f.Close()
	return os.Remove(f.Name())
}
