package main

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/report/html"
)

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
