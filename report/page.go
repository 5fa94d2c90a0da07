package report

import (
	"embed"
	"io"
)

//go:embed page/place
var placeFiles embed.FS

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

// render writes the page around a charting library; "" leaves the charts undrawn.
func render(w io.Writer, in Input, library string) error {
	if err := in.check(); err != nil {
		return err
	}
	view, err := newPageView(&in)
	if err != nil {
		return err
	}
	return renderPage(w, view, library, MapFiles(), folder(placeFiles, "page/place"))
}
