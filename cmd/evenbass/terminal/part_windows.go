package terminal

import (
	"errors"
	"os"
	"path/filepath"
)

// pending is a part on Windows, which the library used elsewhere does not support.
type pending struct {
	*os.File
	path string
	done bool
}

// newPart begins a file beside another.
func newPart(path string) (part, error) {
	f, err := os.CreateTemp(filepath.Dir(path), partPrefix(path)+"*")
	if err != nil {
		return nil, err
	}
	return &pending{File: f, path: path}, nil
}

// Cleanup implements [part].
func (p *pending) Cleanup() error {
	if p.done {
		return nil
	}
	p.done = true
	return errors.Join(p.Close(), os.Remove(p.Name()))
}

// CloseAtomicallyReplace implements [part].
func (p *pending) CloseAtomicallyReplace() error {
	if err := errors.Join(p.Sync(), p.Close()); err != nil {
		return err
	}
	if err := os.Rename(p.Name(), p.path); err != nil {
		return err
	}
	p.done = true
	return nil
}
