// Command evenbass plans the low end of a small room: where loudspeakers and listener go, what
// to build, and what bass to expect.
package main

import (
	"context"
	"errors"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"evenbass/model/concurrent"
)

// garbage is how much garbage may build up before it is collected, % of the memory in use.
// Memory holds long rows of numbers, which the collector need not scan, so collecting often is
// cheap. The usual 100 % made a search take half as much memory again.
const garbage = 25

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(garbage)
	}
	t := newTerminal(os.Stdin, os.Stdout, os.Stderr)
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		<-signals
		cancel()
		<-signals
		t.abandon()
		os.Exit(exitInterrupted)
	}()
	os.Exit(t.run(ctx, os.Args[1:]))
}

// run is the whole program except for the process: it returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	return newTerminal(stdin, stdout, stderr).run(ctx, args)
}

// command runs the command that the arguments name. A panic is an error.
func (t *terminal) command(ctx context.Context, args []string) (err error) {
	defer func() {
		if value := recover(); value != nil {
			err = concurrent.Caught(value)
		}
	}()
	return newApp(t).run(ctx, args)
}

func (t *terminal) run(ctx context.Context, args []string) int {
	err := t.command(ctx, args)
	if fault := t.stdout.fault(); fault != nil && (err == nil || errors.Is(err, context.Canceled)) {
		err = fault
	}
	if err == nil {
		return exitOK
	}
	t.fail(err)
	return exitCode(err)
}
