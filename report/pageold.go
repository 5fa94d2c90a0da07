package report

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
)

//go:embed page/*.gohtml page/*.css
var pageFiles embed.FS

// writeOldPage fills one of the templates that bring their own frame.
func writeOldPage(w io.Writer, name string, view any) error {
	t, err := template.ParseFS(pageFiles, "page/*.gohtml")
	if err == nil {
		t, err = t.ParseFS(frameFiles, "page/frame/table.gohtml", "page/frame/drawing.gohtml")
	}
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

// style adds a style sheet of the page's folder to the page.
func (f *frame) style(file string) error {
	if file == "page/page.css" {
		css, err := frameFiles.ReadFile("page/frame/frame.css")
		f.CSS += template.CSS(css)
		return err
	}
	css, err := pageFiles.ReadFile(file)
	f.CSS += template.CSS(css)
	return err
}

// scripts puts style and scripts into the frame.
func (f *frame) scripts(library string) error {
	f.WithCharts = true
	return f.assemble(library, []fs.FS{folder(frameFiles, "page/frame")})
}
