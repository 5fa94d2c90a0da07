package terminal

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"syscall"
)

// WriteFile gives a file its new content as a whole or leaves it as it was: the content is written
// beside it, flushed to the disk and renamed. The path "-" is standard output. A link is followed,
// also one to a file that is yet to come. A file that its owner has made read-only stays. A device,
// or anything else that is no regular file, is written into and never replaced.
func (t *Terminal) WriteFile(path string, content func(io.Writer) error) error {
	if path == "-" {
		err := content(t.stdout)
		return cmp.Or(t.Fault(), err)
	}
	path, err := follow(path)
	if err != nil {
		return err
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return writeInto(path, content)
	}
	if err := replaceable(path); err != nil {
		return err
	}
	if err := t.replace(path, content); err != nil {
		return fmt.Errorf("cannot write %s: %w", path, Bare(err))
	}
	return nil
}

// replace writes a file beside another and renames it over that.
func (t *Terminal) replace(path string, content func(io.Writer) error) error {
	part, err := t.begin(path)
	if err != nil {
		return err
	}
	defer part.Cleanup()
	if err := content(part); err != nil {
		return err
	}
	t.mutex.Lock()
	defer t.mutex.Unlock()
	delete(t.parts, part.Name())
	return part.CloseAtomicallyReplace()
}

// begin makes the file beside another in which its content is gathered, after it has cleared away
// what killed runs left.
func (t *Terminal) begin(path string) (part, error) {
	clearParts(path)
	t.mutex.Lock()
	defer t.mutex.Unlock()
	part, err := newPart(path)
	if err == nil {
		t.parts[part.Name()] = true
	}
	return part, err
}

// Abandon removes files that are half written, before the program ends at once. Nothing can be
// written after it.
func (t *Terminal) Abandon() {
	t.mutex.Lock() // and never unlock: no further part is begun
	for name := range t.parts {
		os.Remove(name)
	}
	t.Note("ended at once; anything not yet written is lost")
}

// writeInto writes to what is no regular file.
func writeInto(path string, content func(io.Writer) error) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err == nil {
		err = errors.Join(content(f), f.Close())
	}
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, Bare(err))
	}
	return nil
}

// Bare strips the name of the temporary file from a system error.
func Bare(err error) error {
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

// mostLinks is the longest chain of links that is followed, as in Linux.
const mostLinks = 40

// follow returns the file that a path leads to through links, there already or not.
func follow(path string) (string, error) {
	at := path
	for range mostLinks {
		info, err := os.Lstat(at)
		if err != nil || info.Mode()&os.ModeSymlink == 0 {
			return at, nil
		}
		target, err := os.Readlink(at)
		if err != nil {
			return "", fmt.Errorf("cannot write %s: %w", path, Bare(err))
		}
		if !filepath.IsAbs(target) {
			target = filepath.Join(filepath.Dir(at), target)
		}
		at = target
	}
	return "", fmt.Errorf("cannot write %s: the links form a loop", path)
}

// replaceable reports why a file must stay as it is, or cannot be made.
func replaceable(path string) error {
	const write = 0o222
	if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && info.Mode()&write == 0 {
		return fmt.Errorf("cannot write %s: it is read-only; make it writable, or give another name", path)
	}
	return folderThere(path)
}

// folderThere reports a folder that is missing, or that is a file.
func folderThere(path string) error {
	dir := filepath.Dir(path)
	switch info, err := os.Stat(dir); {
	case errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("cannot write %s: the folder %s does not exist; make it first", path, dir)
	case errors.Is(err, syscall.ENOTDIR), err == nil && !info.IsDir():
		return fmt.Errorf("cannot write %s: %s is a file, not a folder", path, dir)
	}
	return nil
}

// Writable reports early whether a file can be written, so that a long search is not lost to a
// mistyped folder.
func Writable(path string) error {
	if path == "" || path == "-" {
		return nil
	}
	path, err := follow(path)
	if err != nil {
		return err
	}
	switch info, err := os.Stat(path); {
	case err == nil && info.IsDir():
		return fmt.Errorf("cannot write %s: it is a folder; give the name of a file", path)
	case err == nil && !info.Mode().IsRegular():
		return nil // a device reports its own errors
	}
	if err := replaceable(path); err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(path), partPrefix(path)+"*") // as a part, which the next run clears if this one is killed here
	if err != nil {
		return fmt.Errorf("cannot write %s: %w", path, Bare(err))
	}
	f.Close()
	return os.Remove(f.Name())
}
