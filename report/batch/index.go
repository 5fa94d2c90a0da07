package batch

import (
	"embed"
	"fmt"
	"io"
	"net/url"
	"path/filepath"

	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// indexView is what the template of the index reads.
type indexView struct {
	Lead  string
	Rooms []roomView
	html.Frame
}

// roomView is one room of the index.
type roomView struct {
	Name, Page, Verdict  string // Page is a link; "" where there is no page
	Graph                *svg.Drawing
	Spread, Range, Facts string
	FirstMove, Fault     string
}

// Index writes a page that leads to the pages of a batch: a small graph of each room, its
// verdict, its range and what to move first. The links are to files in the same folder.
func Index(w io.Writer, run html.Run, rows []Row, asked int) error {
	v := &indexView{Lead: lead(rows, asked), Frame: html.Frame{
		Heading: unit.Plural(len(rows), "room"), About: "results of a batch", Kicker: "Bass of rooms, predicted", Facts: html.Facts(run),
	}}
	v.SetRun(run, "room files and seed")
	for i := range rows {
		v.Rooms = append(v.Rooms, newRoomView(&rows[i], i))
	}
	return html.Write(w, v, html.Folder(pageFiles, "page"))
}

// lead says what the page holds.
func lead(rows []Row, asked int) string {
	failed := 0
	for _, r := range rows {
		if r.Fault != "" {
			failed++
		}
	}
	words := "Each graph shows the worst channel of the best places found, solid, over the same channel now, dashed. " +
		"The range is that of the spread with walls that absorb as little and as much as is likely."
	if failed > 0 {
		words += fmt.Sprintf(" %d of %s failed.", failed, unit.Plural(len(rows), "room"))
	}
	if missing := asked - len(rows); missing > 0 {
		words += fmt.Sprintf(" The batch was stopped: %d of %d rooms are missing.", missing, asked)
	}
	return words
}

func newRoomView(r *Row, i int) roomView {
	v := roomView{Name: text.Printable(r.Room), Fault: r.Fault, FirstMove: text.Printable(r.FirstMove)}
	if v.Name == "" {
		v.Name = text.Printable(filepath.Base(r.File))
	}
	if r.Fault != "" || r.Best == nil {
		return v
	}
	v.Verdict = r.Headline
	if r.Page != "" {
		v.Page = "./" + url.PathEscape(r.Page)
	}
	v.Spread = unit.Spread(*r.Best)
	if r.Now != nil {
		v.Spread = unit.Spread(*r.Now) + " → " + v.Spread
	}
	if r.Least != nil && r.Most != nil && *r.Least != *r.Most {
		v.Range = unit.DecibelsOnly(*r.Least) + " to " + unit.Spread(*r.Most)
	}
	v.Facts = fmt.Sprintf("%s · engine %s · seed %d · %s", r.Goal, r.Engine, r.Seed, unit.Plural(r.Warnings, "caveat"))
	if r.Curves != nil {
		v.Graph = r.graph(fmt.Sprintf("room-%d", i+1), v.Name)
	}
	return v
}

// graph draws the curves of a room small.
func (r *Row) graph(id, name string) *svg.Drawing {
	c := r.Curves
	g := &svg.Graph{
		ID: id, Form: svg.Small, Goal: model.Goal{From: c.From, To: c.To}, Title: "Predicted level over frequency: " + name,
		Desc: fmt.Sprintf("The spread is %s at best.", unit.Spread(*r.Best)),
	}
	if len(c.Now) > 0 && r.Now != nil {
		g.Traces = append(g.Traces, svg.Trace{Class: "now", Name: text.NowName, X: c.Frequency, Y: c.Now})
	}
	g.Traces = append(g.Traces, svg.Trace{Class: "result", Name: "best", X: c.Frequency, Y: c.Best})
	return g.Drawing()
}
