//go:build !windows

package terminal

import (
	"path/filepath"

	"github.com/google/renameio/v2"
)

// newPart begins a file beside another.
func newPart(path string) (part, error) {
	return renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
}
