package main

// All printing is here. The rules:
//
//   - results go to standard output, everything else to standard error;
//   - a message on standard error begins with "evenbass: ", is lower case and has
//     no full stop; what to do about it follows on a line of its own as a hint;
//   - warnings are part of a result and are printed with it;
//   - a progress bar is drawn only on a terminal, on standard error, and is wiped
//     when done, so that logs and pipes never see it;
//   - no colours: people read the output aloud, mail it and paste it.

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"evenbass/model"
	"evenbass/model/concurrent"
)

type terminal struct {
	stdin  io.Reader
	stdout *checkedWriter
	stderr io.Writer

	mutex sync.Mutex
	parts map[string]bool // files that are being written
}

func newTerminal(stdin io.Reader, stdout, stderr io.Writer) *terminal {
	return &terminal{stdin: stdin, stdout: &checkedWriter{to: stdout}, stderr: stderr, parts: map[string]bool{}}
}

// checkedWriter remembers the first error of what it writes to, so that a result which nobody
// got is not a success, whoever printed it.
type checkedWriter struct {
	to  io.Writer
	err error
}

// Write implements [io.Writer].
func (w *checkedWriter) Write(text []byte) (int, error) {
	n, err := w.to.Write(text)
	w.err = cmp.Or(w.err, err)
	return n, err
}

// fault returns the first error of what was written, in words.
func (w *checkedWriter) fault() error {
	if w.err == nil {
		return nil
	}
	return fmt.Errorf("cannot write to standard output: %w", bare(w.err))
}

// print writes a result. What cannot be written is reported when the command ends.
func (t *terminal) print(text string) { io.WriteString(t.stdout, text) }

// note writes a line about what the program has done.
func (t *terminal) note(format string, args ...any) {
	fmt.Fprintf(t.stderr, "evenbass: "+format+"\n", args...)
}

// fail writes an error, line by line, and its hint.
func (t *terminal) fail(err error) {
	for i, line := range strings.Split(strings.TrimRight(err.Error(), "\n"), "\n") {
		if i == 0 {
			line = "evenbass: " + line
		}
		fmt.Fprintln(t.stderr, line)
	}
	var usage usageError
	if errors.As(err, &usage) && usage.hint != "" {
		fmt.Fprintln(t.stderr, usage.hint)
	}
	var fault *concurrent.Panic
	if errors.As(err, &fault) {
		t.stack(fault)
	}
}

// stack writes where a panic began, for whoever repairs the program.
func (t *terminal) stack(fault *concurrent.Panic) {
	t.note("this is a mistake in the program; please report it with the lines below\n%v", fault.String())
}

// progress returns what shows how much of a task is done, a bar for each task, and what wipes the
// last bar. Both do nothing unless standard error is a terminal.
func (t *terminal) progress() (show model.Progress, done func()) {
	f, ok := t.stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil, func() {}
	}
	const steps = 1000
	var bar *progressbar.ProgressBar
	current := ""
	done = func() {
		if bar != nil {
			bar.Finish()
		}
	}
	show = func(task string, share float64) {
		if bar == nil || task != current {
			done()
			current = task
			bar = progressbar.NewOptions(steps,
				progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(task),
				progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish(),
				progressbar.OptionSetPredictTime(true))
		}
		bar.Set(int(share * (steps - 1)))
	}
	return show, done
}

// waitText writes a duration to one or two figures.
func waitText(d time.Duration) string {
	switch {
	case d < 2*time.Minute:
		return fmt.Sprintf("%.0f seconds", d.Round(5*time.Second).Seconds())
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f minutes", d.Minutes())
	}
	return fmt.Sprintf("%.0f hours", d.Hours())
}
