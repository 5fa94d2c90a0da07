package main

import (
	"context"
	"errors"

	"evenbass/model/concurrent"
)

// Exit codes. A script may rely on them.
const (
	exitOK          = 0
	exitFailed      = 1   // the room file, the room or the disk
	exitUsage       = 2   // the command line
	exitInternal    = 3   // a mistake in the program
	exitInterrupted = 130 // Ctrl-C; what was found so far has been given
)

// usageError is a mistake on the command line. Its hint tells where to read on.
type usageError struct {
	text string
	hint string
}

func (e usageError) Error() string { return e.text }

// interruption is a Ctrl-C, in words that say what became of the work.
type interruption string

func (i interruption) Error() string { return string(i) }

// Unwrap makes an interruption a cancelled context.
func (i interruption) Unwrap() error { return context.Canceled }

func exitCode(err error) int {
	var usage usageError
	var fault *concurrent.Panic
	switch {
	case errors.As(err, &fault):
		return exitInternal
	case errors.As(err, &usage):
		return exitUsage
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	default:
		return exitFailed
	}
}
