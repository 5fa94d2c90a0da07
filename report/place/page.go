package place

import (
	"embed"
	"io"
	"io/fs"

	"evenbass/report/floormap"
	"evenbass/report/html"
	"evenbass/report/live"
)

//go:embed page
var pageFiles embed.FS

// Page writes a result as one HTML file that needs no network: verdict, drawings,
// tables and graphs. The same input gives the same bytes. A failed write leaves
// part of a page; write to a temporary file and rename it.
func Page(w io.Writer, in Report) error {
	if err := in.check(); err != nil {
		return err
	}
	view, err := newPageView(&in)
	if err != nil {
		return err
	}
	files := []fs.FS{floormap.Files(), live.Files(), html.Folder(pageFiles, "page")}
	if view.Live != nil {
		files = append(files, live.Scripts())
	}
	return html.Write(w, view, files...)
}
