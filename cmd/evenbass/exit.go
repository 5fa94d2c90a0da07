package main

import (
	"context"
	"errors"

	"evenbass/model/concurrent"
)

// Exit codes. A script may rely on them.
const (
	exitOK          = 0
	exitFailed      = 1   // something is wrong with the room file, the room or the disk
	exitUsage       = 2   // something is wrong with the command line
	exitInternal    = 3   // something is wrong with the program
	exitInterrupted = 130 // Ctrl-C; what was found before it has been given
)

// usageError is a mistake on the command line. Its hint says what to do about it.
type usageError struct {
	text string
	hint string
}

func (e usageError) Error() string { return e.text }

// interruption is a Ctrl-C, in words that say what happened to the work.
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
