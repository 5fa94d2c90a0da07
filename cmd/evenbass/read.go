package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
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

// signFlags give the page's heading, date and notes, in place of the room file's report block.
func signFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "title", Usage: "heading of the page in place of the room's name"},
		&cli.StringFlag{Name: "client", Usage: "whom the page is for"},
		&cli.StringFlag{Name: "project", Usage: "name or number of the project"},
		&cli.StringFlag{Name: "author", Usage: "who made the page"},
		&cli.StringFlag{Name: "date", Usage: "date on the page, any text, in place of today's"},
		&cli.StringFlag{Name: "notes", Usage: "a paragraph under the heading"},
		&cli.StringFlag{Name: "logo", Usage: "picture beside the heading, a PNG or SVG `FILE`"},
	}
}

// signNames are the names of the flags.
func signNames() []string {
	var names []string
	for _, f := range signFlags() {
		names = append(names, f.Names()[0])
	}
	return names
}

// signature is a page's heading, project, author, date, notes and logo.
type signature struct {
	titles model.TitleBlock
	logo   string // the picture as an address, see [html.Logo]
}

// sign gathers the signature from the room file and the flags. It reads the logo now, since a page
// may take long to compute.
func sign(c *cli.Context, t model.TitleBlock, roomFile string) (s signature, err error) {
	for flag, field := range map[string]*string{
		"title": &t.Title, "client": &t.Client, "project": &t.Project, "author": &t.Author, "date": &t.Date,
	} {
		if c.IsSet(flag) {
			*field = c.String(flag)
		}
	}
	if c.IsSet("notes") {
		t.Notes = []string{c.String("notes")}
	}
	file := t.Logo
	if file != "" && !filepath.IsAbs(file) {
		file = filepath.Join(filepath.Dir(roomFile), file)
	}
	if c.IsSet("logo") {
		file = c.String("logo")
	}
	s.titles = t
	if file == "" {
		return s, nil
	}
	picture, err := os.ReadFile(file)
	if err != nil {
		return s, fmt.Errorf("cannot read the logo %s: %w", file, terminal.Bare(err))
	}
	address, err := html.Logo(picture)
	if err != nil {
		return s, fmt.Errorf("%s: %w", file, err)
	}
	s.logo = string(address)
	return s, nil
}

// run is how to get the page again by the command line with the named flags, and what the page says of itself.
func (in roomInput) run(c *cli.Context, flags ...string) html.Run {
	return in.runAs(c, arguments.Again(c, flags...))
}

// runAs is [roomInput.run] by another command line. The flags of the signature follow it.
func (in roomInput) runAs(c *cli.Context, command string) html.Run {
	for _, words := range arguments.Given(c, signNames()...) {
		command += " " + words
	}
	return html.Run{
		Command: command, Version: version(), Date: time.Now(), Source: in.text, File: in.path, Hash: html.Hash(in.text),
		Titles: in.signed.titles, Logo: html.Picture(in.signed.logo),
	}
}
