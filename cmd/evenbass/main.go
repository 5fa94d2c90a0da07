// Command evenbass plans the low end of a small room: where loudspeakers and
// listener go, and how the bass will be there.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// run is the whole program but for the process: it returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	t := newTerminal(stdin, stdout, stderr)
	err := newApp(t).run(ctx, args)
	if err == nil {
		return exitOK
	}
	t.fail(err)
	return exitCode(err)
}
