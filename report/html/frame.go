package html

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"evenbass/model"
	"evenbass/report/text"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"strings"
	"time"
	"unicode"
)

//go:embed frame frame/chart frame/fold frame/part
var pageFiles embed.FS

//go:embed assets
var AssetFiles embed.FS

// ErrNoLibrary is returned for a page with charts if evenbass was built without the
// charting library.
var ErrNoLibrary = errors.New("the charting library is not built in: run \"make assets\" and build again")

// Run is how to get the same page again.
type Run struct {
	Command string    // the whole command line
	Version string    // of evenbass
	Date    time.Time // of the run; zero leaves the date out
	Source  string    // the room file's text; "" leaves it out
	File    string    // the room file's name
	Hash    string    // of the room file, see [Hash]; "" leaves it out

	Engine, Seed string           // filled in by the page where they matter; "" leaves them out
	Titles       model.TitleBlock // its logo is in Logo
	Logo         template.URL     // see [Logo]; "" for none
}

// Frame is what stands around every page: head, policy, cautions, and how to get the page
// again. A page's view embeds it, and a template called "body" of the page's own reads
// that view.
type Frame struct {
	Heading string // the room's name
	About   string // what the page is, behind the heading in the browser's title
	Kicker  string // over the heading
	Facts   string // under it

	Contents []Link // for the body's template "contents"
	Folded   bool   // the page has an appendix of folded parts, where cautions and how to get it again go too

	Titles   TitleBlock
	Colophon string // what made the page

	CautionsRule string // over the cautions; empty without cautions
	Cautions     []text.Caution

	Again              string // how to get the same page
	Command            string
	Source, SourceName string
	WithoutScripts     string // what is missing where scripts are off; "" if nothing
	WithCharts         bool   // the page carries the charting library, and says so where scripts are off
	ScriptPolicy       string
	CSS                template.CSS
	Library, Script    template.JS
}

// withoutCharts tells readers without scripts what a page with charts lacks.
const withoutCharts = "Scripts are off in this browser, so the charts are missing; tables and drawings are complete."

// Link leads to a part of the page.
type Link struct{ ID, Text string }

// Chart is a chart with its options and what it shows in words.
type Chart struct {
	ID, Title, Label string
	Wide             bool
	Options          json.RawMessage
}

// LegendEntry is a curve in words beside its line.
type LegendEntry struct{ Swatch, Text string }

// Base returns the frame of a view that embeds one.
func (f *Frame) Base() *Frame { return f }

// Term is a word of the page with what it means, or a figure with its recipe.
type Term struct{ Name, Text string }

// RunningHead is what every sheet of paper says at its top, as a string of a style sheet.
func (f *Frame) RunningHead() template.CSS {
	return cssString(text.Shortened(f.Heading, 60) + ": " + f.About)
}

// cssString quotes a text for a style sheet. All but letters, figures and spaces is escaped,
// so that no text ends the string, the sheet or its element.
func cssString(s string) template.CSS {
	var b strings.Builder
	for _, r := range s {
		if r == ' ' || unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, `\%x `, r)
	}
	return template.CSS(`"` + b.String() + `"`)
}

// framed is a view with a frame.
type framed interface{ Base() *Frame }

// SetRun fills in how to get the page again. What is repeated depends on what, for
// instance "room file and seed".
func (f *Frame) SetRun(run Run, what string) {
	f.Again = fmt.Sprintf("The same %s and the same evenbass version give the same result to the last digit.", what)
	if run.Version != "" {
		f.Again += " This page was made by evenbass " + text.Printable(run.Version) + "."
	}
	f.Command, f.Source, f.SourceName = run.Command, run.Source, sourceName(run.File)
	f.setTitles(run)
	f.sign(run)
}

// SetCautions puts cautions on the page, with their rule.
func (f *Frame) SetCautions(list []text.Caution) {
	f.CautionsRule, f.Cautions = text.CautionsRule, list
}

func sourceName(file string) string {
	if file == "" {
		return "The room file"
	}
	return "The room file " + text.Printable(file)
}

// Facts joins the facts under a page's heading and adds the date of the run.
func Facts(run Run, facts ...string) string {
	switch {
	case run.Titles.Date != "":
		facts = append(facts, text.Printable(run.Titles.Date))
	case !run.Date.IsZero():
		facts = append(facts, run.Date.Format("2 January 2006"))
	}
	return strings.Join(facts, " · ")
}

// ReadLibrary returns the charting library that was built in.
func ReadLibrary(files fs.FS) (string, error) {
	library, err := fs.ReadFile(files, "assets/echarts.min.js")
	if err != nil {
		return "", fmt.Errorf("report: %w", ErrNoLibrary)
	}
	return string(library), nil
}

// Write writes a page that needs no network as a whole: the frame around the body that
// the page's own files define, with their templates (.gohtml), style sheets (.css) and
// scripts (.js). The same view gives the same bytes. A failed write leaves part of a page;
// write to a temporary file and rename it.
func Write(w io.Writer, view framed, files ...fs.FS) error {
	library := ""
	if view.Base().WithCharts {
		var err error
		if library, err = ReadLibrary(AssetFiles); err != nil {
			return err
		}
	}
	return Render(w, view, library, files...)
}

// Render is [Write] with a charting library of the caller's; "" leaves the charts
// undrawn. Where two folders define the same template, the later one counts: a page with
// a part of another page names its own folder last.
func Render(w io.Writer, view framed, library string, files ...fs.FS) error {
	frames := []fs.FS{Folder(pageFiles, "frame")}
	if view.Base().WithCharts {
		frames = append(frames, Folder(pageFiles, "frame/chart"))
	}
	if view.Base().Folded {
		frames = append(frames, Folder(pageFiles, "frame/fold"))
	}
	files = append(frames, files...)
	t, err := parsed(files)
	if err != nil {
		return err
	}
	if err := view.Base().assemble(library, files); err != nil {
		return err
	}
	var page bytes.Buffer
	if err := t.ExecuteTemplate(&page, "frame", view); err != nil {
		return fmt.Errorf("report: page: %w", err)
	}
	if !view.Base().WithCharts && hasChart(page.Bytes()) {
		return errors.New("report: the page has a chart, and its frame does not say WithCharts: nothing would draw it")
	}
	if _, err := w.Write(isolated(page.Bytes())); err != nil {
		return fmt.Errorf("report: writing the page: %w", err)
	}
	return nil
}

// hasChart reports whether a page holds a chart of the template "chart". Text cannot look like one, since its
// quotes are escaped.
func hasChart(page []byte) bool {
	return bytes.Contains(page, []byte(`<div class="chart"`)) || bytes.Contains(page, []byte(`<div class="chart low"`))
}

// parsed reads the templates of all folders. Of two with one name, the later counts.
func parsed(folders []fs.FS) (*template.Template, error) {
	t, err := template.New("page"), error(nil)
	for _, f := range folders {
		if names, _ := fs.Glob(f, "*.gohtml"); names == nil {
			continue
		}
		if t, err = t.ParseFS(f, "*.gohtml"); err != nil {
			return nil, fmt.Errorf("report: page template: %w", err)
		}
	}
	return t, nil
}

// assemble puts styles and scripts into the frame, and the scripts' sums into the page's
// policy, so that no other script can run.
func (f *Frame) assemble(library string, files []fs.FS) error {
	css, err := joined(files, "*.css")
	if err != nil {
		return err
	}
	script, err := joined(files, "*.js")
	if err != nil {
		return err
	}
	var sums []string
	for _, s := range []string{library, script} {
		if s == "" {
			continue
		}
		if strings.Contains(strings.ToLower(s), "</script") || strings.Contains(s, "<!--") {
			return errors.New("report: a script of the page would end itself")
		}
		sum := sha256.Sum256([]byte(s))
		sums = append(sums, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
	}
	if f.WithCharts {
		f.WithoutScripts = cmp.Or(f.WithoutScripts, withoutCharts)
	}
	f.ScriptPolicy = strings.Join(sums, " ")
	f.CSS, f.Library, f.Script = template.CSS(css), template.JS(library), template.JS(script)
	return nil
}

// Folder returns one folder of built-in files.
func Folder(files embed.FS, name string) fs.FS {
	sub, err := fs.Sub(files, name)
	if err != nil {
		panic(err) // the name is not a path
	}
	return sub
}

// joined returns the text of all files of a kind, each folder's in the order of their
// names. A text that several folders have, such as that of a part which two parts share, is there once.
func joined(folders []fs.FS, pattern string) (string, error) {
	var b strings.Builder
	seen := map[string]bool{}
	for _, folder := range folders {
		names, err := fs.Glob(folder, pattern)
		if err != nil {
			return "", fmt.Errorf("report: %w", err)
		}
		for _, name := range names {
			text, err := fs.ReadFile(folder, name)
			if err != nil {
				return "", fmt.Errorf("report: %w", err)
			}
			if !seen[string(text)] {
				b.Write(text)
			}
			seen[string(text)] = true
		}
	}
	return b.String(), nil
}
