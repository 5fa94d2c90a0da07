package place

import (
	"embed"
	"evenbass/report/floormap"
	"evenbass/report/html"
	"io"
)

//go:embed page
var pageFiles embed.FS

// Page writes a result as one HTML file that needs no network: verdict, drawings,
// tables and charts. The same input gives the same bytes. A failed write leaves
// part of a page; write to a temporary file and rename it.
func Page(w io.Writer, in Report) error {
	library, err := html.ReadLibrary(html.AssetFiles)
	if err != nil {
		return err
	}
	return render(w, in, library)
}

// render writes the page around a charting library; "" leaves the charts undrawn.
func render(w io.Writer, in Report, library string) error {
	if err := in.check(); err != nil {
		return err
	}
	view, err := newPageView(&in)
	if err != nil {
		return err
	}
	return html.Render(w, view, library, floormap.Files(), html.Folder(pageFiles, "page"))
}
