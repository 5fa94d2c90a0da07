package terminal

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// Terminal is where results and messages go, and what is being written.
type Terminal struct {
	stdout *checkedWriter
	stderr io.Writer

	mutex sync.Mutex
	parts map[string]bool // files that are being written
}

// New returns a terminal that prints results to stdout and everything else to stderr.
func New(stdout, stderr io.Writer) *Terminal {
	return &Terminal{stdout: &checkedWriter{to: stdout}, stderr: stderr, parts: map[string]bool{}}
}

// checkedWriter remembers the first error of what it writes to, so that a result which was not
// written is no success, whatever printed it.
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

// Stdout is where results go.
func (t *Terminal) Stdout() io.Writer { return t.stdout }

// Stderr is where everything else goes.
func (t *Terminal) Stderr() io.Writer { return t.stderr }

// Fault returns the first error of writing to standard output, in words.
func (t *Terminal) Fault() error {
	if t.stdout.err == nil {
		return nil
	}
	return fmt.Errorf("cannot write to standard output: %w", Bare(t.stdout.err))
}

// Print writes a result. What cannot be written is reported when the command ends.
func (t *Terminal) Print(text string) { io.WriteString(t.stdout, text) }

// say writes lines to standard error. Control characters, which a file name may hold, become
// question marks.
func (t *Terminal) say(text string) {
	for line := range strings.SplitSeq(text, "\n") {
		fmt.Fprintln(t.stderr, model.Printable(line))
	}
}

// Note writes a line about what the program has done.
func (t *Terminal) Note(format string, args ...any) {
	t.say(fmt.Sprintf("evenbass: "+format, args...))
}

// Fail writes an error, line by line, and its hint.
func (t *Terminal) Fail(err error) {
	t.say("evenbass: " + strings.TrimRight(err.Error(), "\n"))
	var usage UsageError
	if errors.As(err, &usage) && usage.Hint != "" {
		t.say(usage.Hint)
	}
	var fault *concurrent.Panic
	if errors.As(err, &fault) {
		t.Stack(fault)
	}
}

// Stack writes where a panic began, for whoever repairs the program.
func (t *Terminal) Stack(fault *concurrent.Panic) {
	t.Note("this is a mistake in the program; please report it with the lines below\n%v", fault.String())
}

// Interactive reports whether somebody types into a file.
func Interactive(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// Progress returns a function that shows how much of a task is done, with a bar for each task, and
// one that wipes the last bar. Neither does anything unless standard error is a terminal.
func (t *Terminal) Progress() (show model.Progress, done func()) {
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
