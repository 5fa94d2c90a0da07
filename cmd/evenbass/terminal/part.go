package terminal

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// part is a file beside another, in which the other's new content is gathered.
type part interface {
	io.Writer
	Name() string
	Cleanup() error                // removes it, unless it has replaced the other
	CloseAtomicallyReplace() error // flushes it and puts it in the other's place
}

// abandonedAge is how old a part has to be to belong to a run that was killed: content is gathered
// in seconds.
const abandonedAge = time.Minute

// clearParts removes parts of a file that killed runs have left beside it.
func clearParts(path string) {
	folder, prefix := filepath.Dir(path), partPrefix(path)
	entries, err := os.ReadDir(folder)
	if err != nil {
		return // writing says what is wrong with the folder
	}
	for _, e := range entries {
		rest, ok := strings.CutPrefix(e.Name(), prefix)
		if !ok || rest == "" || strings.Trim(rest, "0123456789") != "" {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > abandonedAge {
			os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// partPrefix is how the names of a file's parts begin; figures follow.
func partPrefix(path string) string { return "." + filepath.Base(path) }
