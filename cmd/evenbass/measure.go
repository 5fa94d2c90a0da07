package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/format"
	"evenbass/model/measure/sweep"
	"evenbass/model/roomfile/quantity"
	"evenbass/optimize/study"
	"evenbass/report/measured"
	"evenbass/report/recording"
)

func measureCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "measure", Usage: "turn a recording, or a file that you have, into measurements", ArgsUsage: "ROOM.yaml recording.wav --sweep sweep.wav [-o before]",
		Description: "With --sweep the file is a recording of that test signal; see evenbass sweep. Without it, the\n" +
			"file is a measurement that you already have: columns of frequency, level and perhaps phase; an\n" +
			"impulse response as WAV or as samples; or a measurement that evenbass saved.",
		Flags: append([]cli.Flag{
			&cli.StringFlag{Name: "sweep", Usage: "the test signal that was played, a `FILE` that evenbass sweep wrote"},
			&cli.StringFlag{Name: "o", Usage: "save each measurement as `NAME`-left.txt, -right.txt and so on"},
			&cli.StringFlag{Name: "page", Usage: "write the page to this `FILE`, HTML ('-': standard output)"},
			&cli.StringFlag{Name: "seat", Usage: "`NAME` of the seat where the microphone stood (default the main seat)"},
			&cli.StringFlag{Name: "state", Usage: "`STATE` of the room: bare, or the names of the treatments that stood, separated by semicolons"},
			&cli.StringFlag{Name: "date", Usage: "when it was measured, any `TEXT`"},
			&cli.StringFlag{Name: "correction", Usage: "`FILE` with the microphone's response, which is taken out"},
			&cli.IntFlag{Name: "channel", Usage: "which channel of a WAV file holds the microphone"},
			&cli.StringFlag{Name: "speaker", Usage: "what `SPEAKER` played, without --sweep: left, right, both or sub"},
			&cli.StringFlag{Name: "smoothing", Usage: "how a table was smoothed: none, or a `FRACTION` such as '1/12 octave'"},
			&cli.StringFlag{Name: "phase", Usage: "`UNIT` of a table's phase: degrees or radians"},
			&cli.BoolFlag{Name: "timed", Usage: "time zero of a file is the moment at which the speaker sounds"},
			&cli.BoolFlag{Name: "average", Usage: "average files of one speaker at several positions, by power; -o saves the average"},
			&cli.StringFlag{Name: "table", Usage: "write the responses as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "decays", Usage: "write the decay times as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "modes", Usage: "write the modes found as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "json", Usage: "write the figures as JSON to this `FILE` ('-': standard output)"},
			&cli.Float64Flag{Name: "rate", Usage: "samples a second, `HZ`, of samples without times"},
			arguments.UnitsFlag(),
		}, inventFlags()...),
		Action: func(c *cli.Context) error {
			if c.Bool("demo") {
				return runInvent(c, t)
			}
			return runMeasure(c, t)
		},
	}
}

func runMeasure(c *cli.Context, t *terminal.Terminal) error {
	room, list, err := roomAndFiles(c)
	if err != nil {
		return err
	}
	file := list[0]
	in, err := readStyled(c, room)
	if err != nil {
		return err
	}
	p := in.project
	entry, err := measuredEntry(c, p, file)
	if err != nil {
		return err
	}
	r := recording.Report{Recording: file, Goal: p.Goal, Style: in.style}
	if c.String("sweep") != "" {
		err = analyseRecording(c, p, entry, &r)
	} else {
		err = readAll(c, p, *entry, list, &r)
	}
	if err != nil {
		return err
	}
	page := measured.Report{Room: p.Room.Name, Style: in.style, Run: in.unsigned(c,
		"sweep", "seat", "state", "date", "correction", "channel", "speaker", "smoothing", "phase", "rate", "units", "average")}
	for _, m := range r.Measurements {
		if err := c.Context.Err(); err != nil {
			return err
		}
		a, err := analysis.New(m, p.Goal)
		if err != nil {
			return fmt.Errorf("%s: %w", file, err)
		}
		r.Cards, page.Analyses = append(r.Cards, a.Card), append(page.Analyses, a)
		r.Warnings = append(r.Warnings, a.Brief()...)
	}
	page.Names = r.Names()
	r.Analyses, page.Box = page.Analyses, study.PlainBox(&p.Room)
	return saveMeasurements(c, t, r, page, append(list, room)...)
}

// roomAndFiles returns the command's arguments.
func roomAndFiles(c *cli.Context) (room string, files []string, err error) {
	if c.NArg() < 2 {
		return "", nil, terminal.UsageError{
			Text: c.Command.Name + " needs a room file and a measurement",
			Hint: fmt.Sprintf("hint: evenbass %s %s", c.Command.Name, c.Command.ArgsUsage),
		}
	}
	files = c.Args().Slice()[1:]
	if len(files) > mostFiles || len(files) > 1 && c.String("sweep") != "" {
		return "", nil, terminal.UsageError{Text: fmt.Sprintf("%s takes one recording, or up to %d files without --sweep", c.Command.Name, mostFiles)}
	}
	return c.Args().First(), files, nil
}

// mostFiles is how many files are read at once.
const mostFiles = 24

// measuredEntry returns what the flags say about a measurement, checked against the room.
func measuredEntry(c *cli.Context, p *model.Project, file string) (*model.Measured, error) {
	m := model.Measured{File: file, Seat: c.String("seat"), Date: c.String("date"), Speaker: model.LeftSpeaker, Correction: c.String("correction")}
	if word := c.String("speaker"); word != "" {
		if c.String("sweep") != "" {
			return nil, terminal.UsageError{Text: "--speaker is for files without --sweep; the test signal says what plays"}
		}
		var err error
		if m.Speaker, err = sourceOf("--speaker", word); err != nil {
			return nil, err
		}
	}
	if state := c.String("state"); state != "" {
		if m.StateKnown = true; state != "bare" {
			for name := range strings.SplitSeq(state, ";") {
				m.State = append(m.State, strings.TrimSpace(name))
			}
		}
	}
	switch text := c.String("smoothing"); text {
	case "":
	case "none":
		m.Smoothing = model.Unsmoothed
	default:
		n, err := quantity.ParseSmoothing(text)
		if err != nil {
			return nil, terminal.UsageError{Text: fmt.Sprintf("--smoothing: %v", err)}
		}
		m.Smoothing = n
	}
	with := *p
	with.Measurements = []model.Measured{m}
	for _, problem := range with.Validate() {
		if path, ok := strings.CutPrefix(problem.Path, "measurements[0]."); ok {
			return nil, terminal.UsageError{Text: fmt.Sprintf("--%s: %s", strings.SplitN(path, "[", 2)[0], problem.Text)}
		}
	}
	return &m, nil
}

// opened opens a file, so that an error says which.
func opened(path string) (io.ReadCloser, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, terminal.Bare(err))
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, fmt.Errorf("%s is a folder; give the name of a file", path)
	}
	return f, nil
}

// readWAV reads a recording.
func readWAV(path string) (*measure.Recording, error) {
	f, err := opened(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return format.ReadWAV(path, f)
}

// analyseRecording fills the report from a recording of a sweep.
func analyseRecording(c *cli.Context, p *model.Project, entry *model.Measured, r *recording.Report) error {
	s, err := readSweep(c.String("sweep"))
	if err != nil {
		return err
	}
	rec, err := readWAV(entry.File)
	if err != nil {
		return err
	}
	return withHint(analyseSweep(p, entry, s, rec, c.Int("channel"), r), "--channel 1")
}

// readSweep reads a test signal.
func readSweep(file string) (sweep.Sweep, error) {
	signal, err := readWAV(file)
	if err != nil {
		return sweep.Sweep{}, err
	}
	s, err := sweep.Of(signal)
	if err != nil {
		return s, fmt.Errorf("%s: %w", file, err)
	}
	return s, nil
}

// analyseSweep fills the report from a channel of a recording of a sweep; see [format.Channel].
func analyseSweep(p *model.Project, entry *model.Measured, s sweep.Sweep, rec *measure.Recording, channel int, r *recording.Report) error {
	x, err := format.Channel(entry.File, rec, channel)
	if err != nil {
		return err
	}
	if r.Result, err = sweep.Analyse(x, rec.Rate, s, sweep.OptionsFor(p, entry, s)); err != nil {
		return fmt.Errorf("%s: %w", entry.File, err)
	}
	if rec.Cut {
		r.Warnings = append(r.Warnings, model.Remark("the recording's file is shorter than its header says"))
	}
	for _, part := range r.Result.Parts {
		e := *entry
		e.Speaker = part.Measurement.Speaker
		m, err := format.Complete(p, &e, part.Measurement, opened)
		if err != nil {
			return err
		}
		m.Name = ""
		m.Notes = append(m.Notes, "recorded with "+s.String())
		r.Measurements = append(r.Measurements, m)
	}
	return nil
}

// withHint adds to an error about a file which flag helps.
func withHint(err error, flag string) error {
	var fault *format.Error
	if errors.As(err, &fault) && strings.Contains(fault.Text, "say which") {
		return terminal.UsageError{Text: err.Error(), Hint: "hint: give " + flag}
	}
	return err
}

// readAll fills the report from measurements that there are already, and averages them if asked to.
func readAll(c *cli.Context, p *model.Project, entry model.Measured, files []string, r *recording.Report) error {
	r.Sources = files
	for _, file := range files {
		e := entry
		e.File = file
		m, err := readMeasured(c, p, &e)
		if err != nil {
			return err
		}
		r.Measurements = append(r.Measurements, m)
		r.Warnings = append(r.Warnings, m.CoarseRows(p.Goal)...)
	}
	if !c.Bool("average") {
		return nil
	}
	if len(files) < 2 {
		return terminal.UsageError{Text: "--average needs several files", Hint: "hint: evenbass measure ROOM.yaml a.txt b.txt c.txt --average"}
	}
	grid := r.Measurements[0].Grid()
	for _, m := range r.Measurements {
		grid = m.Within(grid)
	}
	if len(grid) < 2 {
		return errors.New("the files have no frequencies in common")
	}
	positions, err := measure.Combine(r.Measurements, grid)
	if err != nil {
		return err
	}
	average := positions.Measurement(r.Measurements)
	if average.Speaker == model.UnknownSource {
		return errors.New("an average is of one speaker at several positions; these files are of several")
	}
	r.Positions, r.Measurements = positions, append(r.Measurements, average)
	return nil
}

// readMeasured reads a measurement that there is already.
func readMeasured(c *cli.Context, p *model.Project, entry *model.Measured) (*measure.Measurement, error) {
	o := format.Options{Channel: c.Int("channel"), Rate: c.Float64("rate"), Smoothing: entry.Smoothing, Timed: c.Bool("timed")}
	switch word := c.String("phase"); word {
	case "":
	case "degrees":
		o.Phase = format.Degrees
	case "radians":
		o.Phase = format.Radians
	default:
		return nil, terminal.UsageError{Text: fmt.Sprintf("--phase takes degrees or radians, not %q", word)}
	}
	f, err := opened(entry.File)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	m, err := format.Read(entry.File, f, o)
	switch {
	case err != nil && strings.Contains(err.Error(), "degrees or in radians"):
		return nil, withHint(err, "--phase degrees or --phase radians")
	case err != nil && strings.Contains(err.Error(), "at how many Hz"):
		return nil, terminal.UsageError{Text: err.Error(), Hint: "hint: give --rate 48000"}
	case err != nil:
		return nil, withHint(err, "--channel 1")
	}
	if c.String("speaker") == "" {
		if m.Speaker == model.UnknownSource {
			return nil, terminal.UsageError{Text: entry.File + " does not say what played", Hint: "hint: give --speaker left, right, both or sub"}
		}
		entry.Speaker = m.Speaker
	}
	if c.String("seat") == "" && m.Seat != "" {
		entry.Seat = m.Seat
	}
	name := m.Name
	if m, err = format.Complete(p, entry, m, opened); err != nil {
		return nil, err
	}
	m.Name = name
	return m, nil
}

// saveMeasurements writes the files that were asked for, then prints the report.
func saveMeasurements(c *cli.Context, t *terminal.Terminal, r recording.Report, page measured.Report, inputs ...string) error {
	name := strings.TrimSuffix(c.String("o"), ".txt")
	if name == "-" {
		return terminal.UsageError{Text: "-o is the beginning of file names, not standard output", Hint: "hint: -o before"}
	}
	var outputs []terminal.Output
	var files []terminal.NamedFile
	for i, m := range r.Measurements {
		if name == "" || r.Positions != nil && i < len(r.Sources) {
			continue
		}
		file := fmt.Sprintf("%s-%v.txt", name, m.Speaker)
		if len(r.Sources) > 1 && r.Positions == nil {
			file = fmt.Sprintf("%s-%d-%v.txt", name, i+1, m.Speaker)
		}
		r.Files = append(r.Files, file)
		files = append(files, terminal.NamedFile{Name: "-o", File: file})
		outputs = append(outputs, terminal.Output{File: file, Write: func(w io.Writer) error { return format.Write(w, m) }})
	}
	for _, o := range []struct {
		flag  string
		write func(io.Writer) error
	}{{"table", func(w io.Writer) error { return r.ResponseCSV(w) }}, {"decays", r.DecayCSV}, {"modes", r.ModeCSV}, {"json", func(w io.Writer) error { return r.JSON(w) }}} {
		if file := c.String(o.flag); file != "" {
			files = append(files, terminal.NamedFile{Name: arguments.Dashed(o.flag), File: file})
			outputs = append(outputs, terminal.Output{File: file, Write: o.write})
		}
	}
	if file := c.String("page"); file != "" {
		files = append(files, terminal.NamedFile{Name: "--page", File: file})
		outputs = append(outputs, terminal.Output{File: file, Write: func(w io.Writer) error { return measured.Page(w, page) }})
	}
	for _, flag := range []string{"sweep", "correction"} {
		inputs = append(inputs, c.String(flag))
	}
	if err := terminal.Apart(files, inputs...); err != nil {
		return err
	}
	return t.Deliver(func() string { return recording.Text(r) + measured.Text(page) }, outputs...)
}
