package measured

import (
	"embed"
	"io"

	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
)

//go:embed page
var pageFiles embed.FS

// view is what the template reads.
type view struct {
	Headline string
	Lines    []string   // under the headline
	Card     text.Table // beside the lines
	Sections []section

	html.Frame
}

// section is a part of a page. Whatever it lacks is left out.
type section struct {
	ID, Title string
	Lead      string
	Graphs    []svg.Pair
	Fading    *heatmap.Section
	Note      string
	Tables    []text.Table
	List      []string
}

// write writes a page.
func (v *view) write(w io.Writer) error {
	for _, s := range v.Sections {
		v.Contents = append(v.Contents, html.Link{ID: s.ID, Text: s.Title})
	}
	return html.Write(w, v, heatmap.Files(), html.Folder(pageFiles, "page"))
}

// part makes the page a part of a longer one.
func (v *view) part(id, title string) (html.Part, error) {
	return html.NewPart(id, title, false, v, heatmap.Files(), html.Folder(pageFiles, "page"))
}
