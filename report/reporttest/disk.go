package reporttest

import "errors"

// ErrFull is what every write to a [FullDisk] fails with.
var ErrFull = errors.New("no space left on device")

// FullDisk is a writer that takes nothing.
type FullDisk struct{}

// Write implements io.Writer.
func (FullDisk) Write([]byte) (int, error) { return 0, ErrFull }
