// Command evenbass plans the low end of a small room: where loudspeakers and listener go, what
// to build, and what bass to expect.
package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/concurrent"
)

// garbage is the garbage that may build up before a collection, % of the memory in use. Memory
// holds long rows of numbers, which the collector need not scan, so collecting often is cheap. The
// usual 100 % made a search take half as much memory again.
const garbage = 25

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbage)
	}
	t := terminal.New(os.Stdout, os.Stderr)
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		<-signals
		cancel()
		<-signals
		t.Abandon()
		os.Exit(terminal.ExitInterrupted)
	}()
	os.Exit(run(ctx, t, os.Args[1:]))
}

// execute runs the command that the arguments name. A panic is an error.
func execute(ctx context.Context, t *terminal.Terminal, args []string) (err error) {
	defer func() {
		if value := recover(); value != nil {
			err = concurrent.Caught(value)
		}
	}()
	return newApp(t).run(ctx, args)
}

// run is the whole program except for the process: it returns the exit code.
func run(ctx context.Context, t *terminal.Terminal, args []string) int {
	err := execute(ctx, t, args)
	if fault := t.Fault(); fault != nil && (err == nil || errors.Is(err, context.Canceled)) {
		err = fault
	}
	if err == nil {
		return terminal.ExitOK
	}
	err = interrupted(err, "stopped by hand; nothing was written")
	t.Fail(err)
	return terminal.ExitCode(err)
}

// interrupted words a Ctrl-C that has no words yet; other errors stay.
func interrupted(err error, text string) error {
	if said := terminal.Interruption(""); errors.Is(err, context.Canceled) && !errors.As(err, &said) {
		return terminal.Interruption(text)
	}
	return err
}
