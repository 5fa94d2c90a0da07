package terminal

import (
	"context"
	"errors"

	"evenbass/model/concurrent"
)

// Exit codes. A script may rely on them.
const (
	ExitOK          = 0
	ExitFailed      = 1   // something is wrong with the room file, the room or the disk
	ExitUsage       = 2   // something is wrong with the command line
	ExitInternal    = 3   // something is wrong with the program
	ExitInterrupted = 130 // Ctrl-C; what was found before it has been given
)

// UsageError is a mistake on the command line. Its hint says what to do about it.
type UsageError struct {
	Text string
	Hint string
}

func (e UsageError) Error() string { return e.Text }

// Interruption is a Ctrl-C, in words that say what happened to the work.
type Interruption string

func (i Interruption) Error() string { return string(i) }

// Unwrap makes an interruption a cancelled context.
func (i Interruption) Unwrap() error { return context.Canceled }

// ExitCode returns the exit code for an error.
func ExitCode(err error) int {
	var usage UsageError
	var fault *concurrent.Panic
	switch {
	case errors.As(err, &fault):
		return ExitInternal
	case errors.As(err, &usage):
		return ExitUsage
	case errors.Is(err, context.Canceled):
		return ExitInterrupted
	default:
		return ExitFailed
	}
}
