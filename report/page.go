package report

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"strings"
)

//go:embed page
var pageFiles embed.FS

//go:embed assets
var assetFiles embed.FS

// ErrNoLibrary is returned by [Page] if evenbass was built without the charting
// library.
var ErrNoLibrary = errors.New("the charting library is not built in: run \"make assets\" and build again")

// Page writes a result as one HTML file that needs no network: verdict, drawings,
// tables and charts. The same input gives the same bytes. A failed write leaves
// what was written so far; write to a file of another name and rename it.
func Page(w io.Writer, in Input) error {
	library, err := readLibrary(assetFiles)
	if err != nil {
		return err
	}
	return render(w, in, library)
}

func readLibrary(files fs.FS) (string, error) {
	library, err := fs.ReadFile(files, "assets/echarts.min.js")
	if err != nil {
		return "", fmt.Errorf("report: %w", ErrNoLibrary)
	}
	return string(library), nil
}

// render writes the page around a charting library; "" leaves the charts undrawn.
func render(w io.Writer, in Input, library string) error {
	if err := in.check(); err != nil {
		return err
	}
	view, err := newPageView(&in)
	if err != nil {
		return err
	}
	if err := view.scripts(library); err != nil {
		return err
	}
	if err := view.style("page/map.css"); err != nil {
		return err
	}
	return writePage(w, "page.gohtml", view)
}

// writePage fills one of the page's templates and writes it as a whole.
func writePage(w io.Writer, name string, view any) error {
	t, err := template.ParseFS(pageFiles, "page/*.gohtml")
	if err != nil {
		return fmt.Errorf("report: page template: %w", err)
	}
	var page bytes.Buffer
	if err := t.ExecuteTemplate(&page, name, view); err != nil {
		return fmt.Errorf("report: page: %w", err)
	}
	if _, err := page.WriteTo(w); err != nil {
		return fmt.Errorf("report: writing the page: %w", err)
	}
	return nil
}

// frame is what every page carries beside its content.
type frame struct {
	ScriptPolicy    string
	CSS             template.CSS
	Library, Script template.JS
}

// style adds a style sheet of the page's folder to the page.
func (v *frame) style(file string) error {
	css, err := pageFiles.ReadFile(file)
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	v.CSS += template.CSS(css)
	return nil
}

// scripts puts style and scripts into the frame, and the scripts' sums into the
// page's policy, so that no other script can run.
func (v *frame) scripts(library string) error {
	if err := v.style("page/page.css"); err != nil {
		return err
	}
	var script []byte
	for _, name := range []string{"page/page.js", "page/map.js"} {
		part, err := pageFiles.ReadFile(name)
		if err != nil {
			return fmt.Errorf("report: %w", err)
		}
		script = append(script, part...)
	}
	var sums []string
	for _, s := range []string{library, string(script)} {
		if s == "" {
			continue
		}
		if strings.Contains(strings.ToLower(s), "</script") || strings.Contains(s, "<!--") {
			return errors.New("report: a script of the page would end itself")
		}
		sum := sha256.Sum256([]byte(s))
		sums = append(sums, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
	}
	v.ScriptPolicy = strings.Join(sums, " ")
	v.Library, v.Script = template.JS(library), template.JS(script)
	return nil
}
