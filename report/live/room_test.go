package live

import (
	"context"
	"io"
	"math/rand/v2"
	"testing"
	"testing/fstest"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/engines"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/series"
	"evenbass/optimize/study"
	"evenbass/optimize/testroom"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// page is a page with nothing but the part.
type page struct {
	Live *View
	html.Frame
}

const body = `{{define "body"}}{{with .Live}}{{template "live" .}}{{end}}{{end}}`

func writePage(w io.Writer, v *View) error {
	p := &page{Live: v, Frame: html.Frame{Heading: "Room", About: "test"}}
	return html.Render(w, p, "", Files(), Scripts(), fstest.MapFS{"body.gohtml": {Data: []byte(body)}})
}

// room is a room with what the program says of it.
type room struct {
	study  *study.Study
	table  *series.Table
	reader *response.Reader
}

func newRoom(t *testing.T, name string) room {
	t.Helper()
	s, err := study.New(context.Background(), engines.Auto, testroom.Read(t, name))
	if err != nil {
		t.Fatal(err)
	}
	now, _ := s.Project.Now()
	table, err := s.Series(context.Background(), now)
	if err != nil {
		t.Fatal(err)
	}
	return room{s, table, score.NewReader(s.Engine, s.Project)}
}

// at returns what the program says of a layout.
func (r room) at(t *testing.T, l model.Layout) (response.Pair, response.Judgement) {
	t.Helper()
	f, err := r.study.Engine.Field(context.Background(), l.Seat)
	if err != nil {
		t.Fatal(err)
	}
	pair := response.Pair{Left: f.Transfer(nil, l.Left), Right: f.Transfer(nil, l.Right)}
	return pair, r.reader.Judge(pair)
}

// report has the present layout and one moved from it.
func (r room) report(t *testing.T, s unit.Style) *Report {
	t.Helper()
	now, _ := r.study.Project.Now()
	moved := now
	moved.Seat.X = r.table.Domain.Seats.X.Hi - 0.13
	out := &Report{Project: r.study.Project, Table: r.table, Start: 1, Style: s, Modes: []Mode{{Name: "(1,0,0)", Frequency: 39.8, Width: 3}}}
	for i, l := range []model.Layout{now, moved} {
		_, j := r.at(t, l)
		out.Layouts = append(out.Layouts, Layout{Name: []string{"now", "layout 1"}[i], Layout: l, Judgement: &j})
	}
	return out
}

// layouts returns n layouts scattered over the table, of so many seats, many at its edges. They
// keep no rules.
func (r room) layouts(n, seats int) []model.Layout {
	rng := rand.New(rand.NewPCG(3, 4))
	within := func(s geometry.Span) float64 { return s.Lo + max(0, min(1, 1.3*rng.Float64()-0.15))*s.Length() }
	d := &r.table.Domain
	var list []model.Layout
	var seat r3.Vec
	for len(list) < n {
		if len(list)%(n/seats) == 0 {
			seat = r3.Vec{X: within(d.Seats.X), Y: within(d.Seats.Y), Z: d.Ears}
		}
		z := d.Heights[rng.IntN(len(d.Heights))]
		place := func(i int) r3.Vec {
			a := d.Sources[i]
			return r3.Vec{X: within(a.X), Y: within(a.Y), Z: z}
		}
		l := model.Layout{Left: place(0), Right: place(len(d.Sources) - 1), Seat: seat}
		if r3.Norm(r3.Sub(l.Left, seat)) > model.LeastDistance && r3.Norm(r3.Sub(l.Right, seat)) > model.LeastDistance {
			list = append(list, l)
		}
	}
	return list
}

func (r room) file(t *testing.T, s unit.Style) string {
	t.Helper()
	return pageFile(t, r.report(t, s))
}

func pageFile(t *testing.T, r *Report) string {
	t.Helper()
	v, err := NewView(r)
	if err != nil {
		t.Fatal(err)
	}
	return reporttest.File(t, func(w io.Writer) error { return writePage(w, v) }, html.ErrNoLibrary)
}
