package subwoofer

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/subwoofer"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// shown is the plan that is drawn: what pays or, if nothing does, the last that was tried.
func (m *Report) shown() *subwoofer.Plan {
	if n := m.worthwhile(); n > 0 {
		return &m.Result.Plans[n]
	}
	return &m.Result.Plans[len(m.Result.Plans)-1]
}

// seatCurves is what is drawn of one seat.
type seatCurves struct {
	Seat    string
	Sums    svg.Pair // without and with subwoofers
	Parts   svg.Pair // what each part brings, if there is any subwoofer
	Octaves text.Table
}

func (m *Report) newSeatCurves() []seatCurves {
	var list []seatCurves
	for i := range m.Result.Plans[0].Seats {
		s := seatCurves{Seat: m.seat(i), Octaves: m.octavesTable(i), Sums: svg.NewPair(func(f svg.Form) *svg.Drawing { return m.sumsGraph(i, f) })}
		if len(m.shown().Units) > 0 {
			s.Parts = svg.NewPair(func(f svg.Form) *svg.Drawing { return m.partsGraph(i, f) })
		}
		list = append(list, s)
	}
	return list
}

// sum is the response of one plan that is drawn, with its name in the drawing and the class of its
// curve.
type sum struct {
	name, class string
	plan        *subwoofer.Plan
}

// sums are the plans whose responses are compared.
func (m *Report) sums() []sum {
	list := []sum{{"without", "now", &m.Result.Plans[0]}}
	if now := m.Result.Now; now != nil {
		list = append(list, sum{"present", "result second", now})
	}
	if p := m.shown(); len(p.Units) > 0 {
		list = append(list, sum{fmt.Sprintf("with %d", len(p.Units)), "result", p})
	}
	return list
}

// sumsGraph draws the responses at a seat, both channels playing, each against its own mean.
func (m *Report) sumsGraph(seat int, form svg.Form) *svg.Drawing {
	g := svg.Graph{
		ID: form.Name(fmt.Sprintf("sums-%d", seat)), Form: form, Goal: m.Result.Goal, Title: "Both speakers and the subwoofers together, " + m.seat(seat),
	}
	var words []string
	for _, s := range m.sums() {
		t := svg.NewTrace(s.class, s.name, m.Grid, &s.plan.Seats[seat].Judgement, response.BothTogether)
		g.Traces = append(g.Traces, t)
		words = append(words, s.name+" "+t.Spread)
	}
	g.Desc = "Level over frequency: " + strings.Join(words, "; ") + ". The tables give the figures."
	return g.Drawing()
}

// partsGraph draws what the speakers and the subwoofers each bring to a seat and what that adds up
// to, both channels playing.
func (m *Report) partsGraph(seat int, form svg.Form) *svg.Drawing {
	g := svg.Graph{
		ID: form.Name(fmt.Sprintf("parts-%d", seat)), Form: form, Goal: m.Result.Goal, Title: "What each part brings, " + m.seat(seat),
		Desc: "Level over frequency of the speakers alone, of the subwoofers alone and of everything together.", Traces: m.parts(seat),
	}
	return g.Drawing()
}

// parts are the curves of the speakers alone, the subwoofers alone and everything together at a
// seat, all against the mean of the sum.
func (m *Report) parts(seat int) []svg.Trace {
	s := &m.shown().Seats[seat]
	reader := response.NewReader(m.Grid, m.Project.Room.Air(), m.Result.Goal)
	mean := s.Judgement.Figures[response.BothTogether].Mean
	trace := func(class string, levels []model.Level) svg.Trace {
		t := svg.Trace{Class: class, X: m.Grid, Y: make([]float64, len(m.Grid))}
		for i, l := range levels {
			t.Y[i] = float64(l - mean)
		}
		return t
	}
	return []svg.Trace{
		trace("second", reader.Smooth(s.Mains.Of(response.BothTogether))),
		trace("third", reader.Smooth(subsAlone(s))),
		trace("result", s.Judgement.Curves[response.BothTogether]),
	}
}

// partsLegend says which line is which part.
func partsLegend() []html.LegendEntry {
	return []html.LegendEntry{
		{Swatch: "layout2 dash3", Text: "the speakers alone, high-pass included"},
		{Swatch: "layout3 dash2", Text: "the subwoofers alone, as set"},
		{Swatch: "layout1", Text: "everything together"},
	}
}

// octavesTable lists the levels of the responses at a seat in third octaves.
func (m *Report) octavesTable(seat int) text.Table {
	var columns []text.OctaveColumn
	for _, s := range m.sums() {
		j := &s.plan.Seats[seat].Judgement
		columns = append(columns, text.OctaveColumn{Name: s.name, Curve: j.Curves[response.BothTogether], Mean: j.Figures[response.BothTogether].Mean})
	}
	slices.Reverse(columns[1:]) // the result beside what it is compared with
	t := text.OctavesTable(response.BothTogether, m.Result.Goal, m.Grid, columns)
	t.Caption = text.Sentence(m.seat(seat)) + ", " + strings.ToLower(t.Caption[:1]) + t.Caption[1:]
	return t
}

// subsAlone is what all subwoofers bring to a seat with both channels playing, each of
// which they get.
func subsAlone(s *subwoofer.Seat) []complex128 {
	sum := make([]complex128, len(s.Mains.Left))
	for _, way := range s.Units {
		for i, v := range way {
			sum[i] += 2 * v
		}
	}
	return sum
}
