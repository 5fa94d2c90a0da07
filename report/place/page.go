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
	"evenbass/report/text"
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

// newLive returns the part of the page that answers for other places, or nil without a table.
func newLive(in *Report) (*live.View, error) {
	if in.Series == nil {
		return nil, nil
	}
	r := live.Report{Project: in.Project, Table: in.Series, Style: in.Style}
	if now := in.Result.Now; now != nil {
		r.Layouts = append(r.Layouts, live.Layout{Name: text.NowName, Layout: now.Layout, Judgement: &now.Judgement})
		r.Start, r.Resolution = 1, in.best().Card.Resolution(&now.Card)
	}
	for i := range in.Result.Candidates {
		c := &in.Result.Candidates[i]
		r.Layouts = append(r.Layouts, live.Layout{Name: text.LayoutName(i + 1), Layout: c.Layout, Judgement: &c.Judgement})
	}
	for _, v := range in.Variants {
		o := live.Option{Engine: v.Engine, Table: v.Table}
		for _, name := range v.Options {
			o.Names = append(o.Names, text.Printable(name))
		}
		r.Options = append(r.Options, o)
	}
	for _, m := range in.Modes {
		if m.Decay > 0 {
			r.Modes = append(r.Modes, live.Mode{Name: m.Name(), Frequency: m.Frequency, Width: bandwidth / m.Decay})
		}
	}
	return live.NewView(&r)
}

// bandwidth is that of a resonance in Hz between its points 3 dB down, times its decay time:
// 3 ln 10/π (Kuttruff, Room Acoustics, 6th ed. 2016, eq. 3.20).
const bandwidth = 2.2
