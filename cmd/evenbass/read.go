package main

import (
	"context"
	"fmt"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/roomfile"
	"evenbass/report/html"
	"evenbass/report/unit"
)

// roomInput is the input of a command on a room file.
type roomInput struct {
	path    string
	text    string // of the file, for the page
	project *model.Project
	style   unit.Style
	signed  signature
}

// readRoom reads the room file that is the command's one argument and its unit style, after
// making sure that the outputs can be written.
func readRoom(c *cli.Context, outputs ...string) (in roomInput, err error) {
	path, err := arguments.OneFile(c, "a room file")
	if err != nil {
		return in, err
	}
	if path == "-" {
		return in, terminal.UsageError{
			Text: c.Command.Name + " reads a file, not standard input; give the name of a room file",
			Hint: fmt.Sprintf("hint: evenbass %s %s", c.Command.Name, c.Command.ArgsUsage),
		}
	}
	if err := terminal.Apart(arguments.OutputsOf(c), path); err != nil {
		return in, err
	}
	if in, err = readStyled(c, path, outputs...); err != nil {
		return in, err
	}
	in.signed, err = sign(c, in.project.Report, in.path)
	return in, err
}

// readBeside reads the room file of a command that reads other files too, and its unit style, after making
// sure that the outputs can be written and overwrite nothing that is read.
func readBeside(c *cli.Context, room string, others []string, outputs []terminal.NamedFile) (in roomInput, err error) {
	if err := terminal.Apart(outputs, append(others, room)...); err != nil {
		return in, err
	}
	var files []string
	for _, o := range outputs {
		files = append(files, o.File)
	}
	return readStyled(c, room, files...)
}

// readStyled reads a room file and the command's unit style, after making sure that the outputs can be
// written.
func readStyled(c *cli.Context, path string, outputs ...string) (in roomInput, err error) {
	in.path = path
	if in.style, err = arguments.UnitStyle(c); err != nil {
		return in, err
	}
	for _, file := range outputs {
		if err := terminal.Writable(file); err != nil {
			return in, err
		}
	}
	in.project, in.text, err = readFile(c.Context, path)
	return in, err
}

// unsigned is how to get a page again that says nothing of whom it is for.
func (in roomInput) unsigned(c *cli.Context, flags ...string) html.Run {
	return html.Run{Command: arguments.Again(c, flags...), Version: version(), Date: time.Now(), Source: in.text, File: in.path}
}

// readFile reads a room file and its text once, which is all that a pipe can give. An interrupt
// ends the wait for a pipe.
func readFile(ctx context.Context, path string) (*model.Project, string, error) {
	var (
		project *model.Project
		text    string
		fault   error
	)
	read := make(chan struct{})
	go func() {
		defer close(read)
		project, text, fault = roomfile.ReadFile(path)
	}()
	select {
	case <-read:
		return project, text, fault
	case <-ctx.Done():
		return nil, "", terminal.Interruption(fmt.Sprintf("stopped by hand before %s was read; nothing was written", path))
	}
}
