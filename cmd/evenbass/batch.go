package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model/concurrent"
	"evenbass/model/roomfile"
	"evenbass/report/batch"
	"evenbass/report/html"
	"evenbass/report/place"
	"evenbass/report/unit"
)

func batchCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "batch", Usage: "place speakers and seat in many rooms, with one table of all rooms", ArgsUsage: "ROOM.yaml ... [-o folder]",
		Description: "A room that fails does not stop the others; the exit code is then 1. After Ctrl-C the\n" +
			"finished rooms are kept, and --resume continues from there.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write each room's page and JSON into this `FOLDER`, with an index.html that leads to them"},
			&cli.StringFlag{Name: "json", Usage: "write the table as JSON to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "csv", Usage: "write the table as CSV to this `FILE` ('-': standard output)"},
			&cli.BoolFlag{Name: "resume", Usage: "skip rooms whose results are in the folder already, from the same file and settings"},
		}, searchFlags()...),
		Action: func(c *cli.Context) error { return runBatch(c, t, plan) },
	}
}

// planner searches the places of one room.
type planner func(*cli.Context, *terminal.Terminal, roomInput) (in place.Report, stopped bool, err error)

func runBatch(c *cli.Context, t *terminal.Terminal, search planner) error {
	style, err := checkBatch(c)
	if err != nil {
		return err
	}
	if err := terminal.Apart(batchOutputs(c), c.Args().Slice()...); err != nil {
		return err
	}
	var rows []batch.Row
	failed, stopped := 0, false
	for i, path := range c.Args().Slice() {
		row, done := batchRoom(c, t, path, style, search)
		if stopped = !done; stopped {
			break
		}
		rows = append(rows, row)
		said := "done"
		switch {
		case row.Fault != "":
			said, failed = "failed", failed+1
		case row.Kept:
			said = "kept from an earlier run"
		}
		t.Note("%d of %d, %s: %s", i+1, c.NArg(), path, said)
	}
	if stopped && len(rows) == 0 {
		return terminal.Interruption("stopped by hand before any room was finished; nothing was written")
	}
	index := ""
	if c.String("o") != "" {
		index = filepath.Join(c.String("o"), indexName+".html")
	}
	err = t.Deliver(
		func() string { return batch.Text(rows, c.NArg()) },
		terminal.Output{File: index, Write: func(w io.Writer) error {
			return batch.Index(w, html.Run{Command: batchLine(c), Version: version(), Date: time.Now()}, rows, c.NArg())
		}},
		terminal.Output{File: c.String("json"), Write: func(w io.Writer) error { return batch.JSON(w, version(), rows, c.NArg()) }},
		terminal.Output{File: c.String("csv"), Write: func(w io.Writer) error { return batch.CSV(w, rows) }},
	)
	switch {
	case err != nil:
		return err
	case stopped:
		kept := "the table has only these"
		if c.String("o") != "" {
			kept = fmt.Sprintf("their pages are in %s, and --resume continues from there", c.String("o"))
		}
		return terminal.Interruption(fmt.Sprintf("stopped by hand after %d of %d rooms; %s", len(rows), c.NArg(), kept))
	case failed > 0:
		return failures(failed, len(rows))
	}
	return nil
}

// indexName is the file name of the index page, without its ending.
const indexName = "index"

// batchLine returns the command line again, quoted for a shell.
func batchLine(c *cli.Context) string {
	line := fmt.Sprintf("evenbass batch -o %s --seed %d --layouts %d --trials %d", arguments.Quoted(c.String("o")), c.Int64("seed"), c.Int("layouts"), c.Int("trials"))
	for _, path := range c.Args().Slice() {
		line += " " + arguments.Quoted(path)
	}
	return line
}

// failures says how many rooms have no result. The table says why.
func failures(failed, all int) error {
	if all == 1 {
		return errors.New("the room failed, see above")
	}
	return fmt.Errorf("%d of %d rooms failed, see above", failed, all)
}

// checkBatch reports mistakes of usage and makes the folder.
func checkBatch(c *cli.Context) (style unit.Style, err error) {
	switch {
	case c.NArg() == 0:
		return 0, terminal.UsageError{Text: "batch needs room files", Hint: "hint: evenbass batch " + c.Command.ArgsUsage}
	case c.Bool("resume") && c.String("o") == "":
		return 0, terminal.UsageError{Text: "--resume needs -o with the folder of the earlier run"}
	}
	if err := checkSearch(c); err != nil {
		return 0, err
	}
	if style, err = arguments.UnitStyle(c); err != nil {
		return 0, err
	}
	seen := map[string]string{}
	for i, path := range c.Args().Slice() {
		if slices.Contains(c.Args().Slice()[:i], path) {
			return 0, terminal.UsageError{Text: path + " is given twice; give each room once"}
		}
		name := batchName(path)
		if name == indexName && c.String("o") != "" {
			return 0, terminal.UsageError{Text: fmt.Sprintf("%s would write %s.html, which is the page that leads to all rooms; rename it", path, name)}
		}
		if other, ok := seen[name]; ok && c.String("o") != "" {
			return 0, terminal.UsageError{Text: fmt.Sprintf("%s and %s would both write %s.html; rename one", other, path, name)}
		}
		seen[name] = path
	}
	for _, file := range []string{c.String("json"), c.String("csv")} {
		if err := terminal.Writable(file); err != nil {
			return 0, err
		}
	}
	if folder := c.String("o"); folder != "" {
		if info, err := os.Stat(folder); err == nil && !info.IsDir() {
			return 0, fmt.Errorf("cannot write into %s: it is a file; give the name of a folder", folder)
		}
		if err := os.MkdirAll(folder, 0o755); err != nil {
			return 0, fmt.Errorf("cannot make the folder %s: %w", folder, terminal.Bare(err))
		}
	}
	return style, nil
}

// batchOutputs returns the files of the tables and of every room.
func batchOutputs(c *cli.Context) []terminal.NamedFile {
	list := []terminal.NamedFile{{Name: "--json", File: c.String("json")}, {Name: "--csv", File: c.String("csv")}}
	if c.String("o") == "" {
		return list
	}
	list = append(list, terminal.NamedFile{Name: "the index", File: filepath.Join(c.String("o"), indexName+".html")})
	for _, path := range c.Args().Slice() {
		base := filepath.Join(c.String("o"), batchName(path))
		list = append(list, terminal.NamedFile{Name: "the page of " + path, File: base + ".html"}, terminal.NamedFile{Name: "the result of " + path, File: base + ".json"})
	}
	return list
}

// batchName returns the name of a room's files, without their endings.
func batchName(path string) string {
	return strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
}

// batchRoom searches one room and writes its files. Done is false if it was stopped by hand;
// nothing is written then. A panic is a fault of this room alone.
func batchRoom(c *cli.Context, t *terminal.Terminal, path string, style unit.Style, search planner) (row batch.Row, done bool) {
	defer func() {
		if value := recover(); value != nil {
			fault := concurrent.Caught(value)
			t.Stack(fault)
			row, done = batch.Row{File: path, Fault: fault.Error()}, true
		}
	}()
	fault := func(err error) (batch.Row, bool) {
		return batch.Row{File: path, Fault: brief(err)}, c.Context.Err() == nil
	}
	if c.Context.Err() != nil {
		return row, false
	}
	p, text, err := readFile(c.Context, path)
	if err != nil {
		return fault(err)
	}
	mark := fingerprint(c, text)
	base := filepath.Join(c.String("o"), batchName(path))
	if c.Bool("resume") {
		row, why := made(base, mark)
		if why == "" {
			row.File, row.Kept = path, true
			return row, true
		}
		if why != notMade {
			t.Note("%s is computed again: %s", path, why)
		}
	}
	signed, err := sign(c, p.Report, path)
	if err != nil {
		return fault(err)
	}
	in, stopped, err := search(c, t, roomInput{path: path, text: text, project: p, style: style, signed: signed})
	switch {
	case stopped || c.Context.Err() != nil:
		return row, false
	case err != nil:
		return fault(err)
	}
	row = batch.NewRow(&in)
	if c.String("o") != "" {
		row.Page = batchName(path) + ".html"
	}
	in.Batch = batch.Note{Fingerprint: mark, Row: row}
	if c.String("o") != "" {
		err = errors.Join(
			t.WriteFile(base+".html", func(w io.Writer) error { return place.Page(w, in) }),
			t.WriteFile(base+".json", func(w io.Writer) error { return place.JSON(w, in) }),
		)
		if err != nil {
			return fault(err)
		}
	}
	return row, true
}

// fingerprint returns a text that is the same only for the same room file, settings and version.
func fingerprint(c *cli.Context, text string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n", version())
	for _, name := range []string{"seed", "layouts", "time", "trials", "engine", "units"} {
		fmt.Fprintf(h, "%s %v\n", name, c.Value(name))
	}
	io.WriteString(h, text)
	return hex.EncodeToString(h.Sum(nil))
}

// notMade is why a room without results is computed.
const notMade = "there is nothing yet"

// made returns the row of a room whose page and JSON are complete and have the fingerprint, or
// says why they cannot be used.
func made(base, mark string) (row batch.Row, why string) {
	page, pageErr := os.ReadFile(base + ".html")
	doc, docErr := os.ReadFile(base + ".json")
	switch {
	case errors.Is(pageErr, os.ErrNotExist) && errors.Is(docErr, os.ErrNotExist):
		return row, notMade
	case pageErr != nil:
		return row, fmt.Sprintf("%s.html is missing or cannot be read", base)
	case docErr != nil:
		return row, fmt.Sprintf("%s.json is missing or cannot be read", base)
	case !bytes.HasSuffix(bytes.TrimSpace(page), []byte("</html>")):
		return row, fmt.Sprintf("%s.html is not complete", base)
	}
	row, was, err := batch.ReadRow(bytes.NewReader(doc))
	switch {
	case err != nil:
		return row, fmt.Sprintf("%s.json is damaged, or not from a batch", base)
	case was != mark:
		return row, fmt.Sprintf("%s.json comes from another version of the file or the program, or from other settings", base)
	}
	return row, ""
}

// brief writes an error on one line, and faults of a room file without their excerpts.
func brief(err error) string {
	var faults *roomfile.Error
	if errors.As(err, &faults) {
		return faults.Brief()
	}
	return err.Error()
}
