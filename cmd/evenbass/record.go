package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/arguments"
	"evenbass/cmd/evenbass/serve"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/format"
	"evenbass/model/measure/sweep"
	"evenbass/model/roomfile"
	"evenbass/report/recording"
	"evenbass/report/text"
)

// recordFlags are those of serve that say how its page measures.
func recordFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "sweep", Usage: "measure with this test signal, a `FILE` that evenbass sweep wrote (default what evenbass sweep writes)"},
		&cli.StringFlag{Name: "correction", Usage: "`FILE` with the microphone's response, which is taken out of what is recorded"},
	}
}

// recorder measures by the browser of whoever reads the page of serve.
type recorder struct {
	c     *cli.Context
	t     *terminal.Terminal
	room  string // path of its file
	sweep sweep.Sweep
}

// newRecorder returns what the site needs to measure the room of a file.
func newRecorder(c *cli.Context, t *terminal.Terminal, room string) (*serve.Recorder, error) {
	r := recorder{c, t, room, sweep.Default()}
	if file := c.String("sweep"); file != "" {
		var err error
		if r.sweep, err = readSweep(file); err != nil {
			return nil, err
		}
	}
	if file := c.String("correction"); file != "" {
		if err := format.CheckCorrection(file, opened); err != nil {
			return nil, err
		}
	}
	signal, err := r.sweep.Recording()
	if err != nil {
		return nil, err
	}
	var wav bytes.Buffer
	if err := format.WriteWAV(&wav, signal); err != nil {
		return nil, err
	}
	out := &serve.Recorder{
		Signal: wav.Bytes(), Duration: time.Duration(r.sweep.Duration() * float64(time.Second)), Gain: r.sweep.Level.Ratio(),
		Form: r.form, Keep: r.keep,
	}
	for _, part := range r.sweep.Sources() {
		out.Check = append(out.Check, part.String())
	}
	return out, nil
}

// form returns what the page tells and asks the reader.
func (r recorder) form() (serve.Form, error) {
	p, _, err := readFile(r.c.Context, r.room)
	if err != nil {
		return serve.Form{}, err
	}
	list := recording.Checklist{Sweep: r.sweep, Room: r.room, Project: p}
	if list.Style, err = arguments.UnitStyle(r.c); err != nil {
		return serve.Form{}, err
	}
	form := serve.Form{Steps: list.Setup(), Cautions: text.CautionLines(text.CautionOf(list.Style, "Hearing and loudspeakers", "Electricity"))}
	for _, s := range p.Seats {
		form.Seats = append(form.Seats, s.Name)
	}
	for _, t := range p.Room.Treatments {
		if !t.Furnished() {
			form.Treatments = append(form.Treatments, serve.Treatment{Name: t.Name, Stands: true})
		}
	}
	for _, o := range p.Options {
		for _, t := range o.Add {
			if one := (serve.Treatment{Name: t.Name}); !slices.ContainsFunc(form.Treatments, func(t serve.Treatment) bool { return t.Name == one.Name }) {
				form.Treatments = append(form.Treatments, one)
			}
		}
	}
	form.Treatments = slices.DeleteFunc(form.Treatments, func(t serve.Treatment) bool { return t.Name == "" })
	return form, nil
}

// keep turns a recording into measurements, saves them beside the room file and names them in it.
func (r recorder) keep(ctx context.Context, wav []byte, taken serve.Taken) (string, error) {
	p, source, err := readFile(ctx, r.room)
	if err != nil {
		return "", err
	}
	now := time.Now()
	entry := &model.Measured{
		File: "the recording", Seat: taken.Seat, Speaker: model.LeftSpeaker, Date: now.Format("2006-01-02 15:04"), State: taken.State, StateKnown: true,
		Correction: r.c.String("correction"),
	}
	if err := checkEntry(p, entry); err != nil {
		return "", err
	}
	rec, err := format.ReadWAV(entry.File, bytes.NewReader(wav))
	if err != nil {
		return "", err
	}
	report := recording.Report{Recording: entry.File, Goal: p.Goal, NamedIn: r.room}
	if report.Style, err = arguments.UnitStyle(r.c); err != nil {
		return "", err
	}
	if err := analyseSweep(p, entry, r.sweep, rec, 0, &report); err != nil {
		return "", err
	}
	for _, m := range report.Measurements {
		a, err := analysis.New(m, p.Goal)
		if err != nil {
			return "", err
		}
		report.Cards, report.Analyses = append(report.Cards, a.Card), append(report.Analyses, a)
	}
	if err := r.save(p, source, now, &report); err != nil {
		return "", err
	}
	return recording.Text(report), nil
}

// checkEntry checks the reader's answers about a measurement against the room file.
func checkEntry(p *model.Project, entry *model.Measured) error {
	with := *p
	with.Measurements = []model.Measured{*entry}
	for _, problem := range with.Validate() {
		if strings.HasPrefix(problem.Path, "measurements[0].") {
			return errors.New(problem.Text)
		}
	}
	return nil
}

// save writes the measurements beside the room file and their entries into it. It overwrites no
// file but the room file, whose comments stay.
func (r recorder) save(p *model.Project, source string, now time.Time, report *recording.Report) error {
	with := *p
	with.Measurements = slices.Clone(p.Measurements)
	for _, m := range report.Measurements {
		file := r.unused(fmt.Sprintf("%s-%s-%v", now.Format("2006-01-02-1504"), plainName(m.Seat), m.Speaker))
		if err := r.t.WriteFile(filepath.Join(filepath.Dir(r.room), file), func(w io.Writer) error { return format.Write(w, m) }); err != nil {
			return err
		}
		report.Files = append(report.Files, file)
		with.Measurements = append(with.Measurements, model.Measured{
			File: file, Seat: m.Seat, Speaker: m.Speaker, Date: m.Date, State: m.State, StateKnown: m.StateKnown,
		})
	}
	return r.t.WriteFile(r.room, func(w io.Writer) error {
		var text bytes.Buffer
		kept, err := roomfile.Rewrite(&text, source, &with)
		if err == nil && !kept {
			err = fmt.Errorf("the measurements are saved as %s, but its comments could not be kept with them named; name them under measurements yourself", strings.Join(report.Files, ", "))
		}
		if err == nil {
			_, err = w.Write(text.Bytes())
		}
		return err
	})
}

// unused returns the name of a text file that is not in the room file's folder yet.
func (r recorder) unused(name string) string {
	for n := 1; ; n++ {
		file := name + ".txt"
		if n > 1 {
			file = fmt.Sprintf("%s-%d.txt", name, n)
		}
		if _, err := os.Lstat(filepath.Join(filepath.Dir(r.room), file)); errors.Is(err, os.ErrNotExist) {
			return file
		}
	}
}

// plainName returns a seat's name as part of a file's name on any system.
func plainName(seat string) string {
	plain := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '-'
	}, seat)
	if plain = strings.Trim(plain, "-"); plain == "" {
		return "seat"
	}
	return string([]rune(plain)[:min(30, len([]rune(plain)))])
}
