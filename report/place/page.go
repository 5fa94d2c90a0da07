package place

import (
	"embed"
	"io"
	"io/fs"

	"evenbass/report/floormap"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/live"
	"evenbass/report/present"
)

//go:embed page
var pageFiles embed.FS

// Page writes a result as one HTML file that needs no network: verdict, drawings,
// tables and graphs. The same input gives the same bytes. A failed write leaves
// part of a page; write to a temporary file and rename it.
func Page(w io.Writer, in Report) error {
	view, files, err := newView(&in)
	if err != nil {
		return err
	}
	return html.Write(w, view, files...)
}

// Part is the same page as a part of a longer one. It keeps its ids, by which its scripts find
// what they change.
func Part(id, title string, in Report) (html.Part, error) {
	view, files, err := newView(&in)
	if err != nil {
		return html.Part{}, err
	}
	return html.NewPart(id, title, true, view, files...)
}

// newView returns the page's view and its folders.
func newView(in *Report) (*pageView, []fs.FS, error) {
	if err := in.check(); err != nil {
		return nil, nil, err
	}
	view, err := newPageView(in)
	if err != nil {
		return nil, nil, err
	}
	files := []fs.FS{floormap.Files(), live.Files(), heatmap.Files(), present.Files(), html.Folder(pageFiles, "page")}
	if view.Live != nil {
		files = append(files, live.Scripts())
	}
	return view, files, nil
}
