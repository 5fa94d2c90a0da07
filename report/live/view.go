package live

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/series"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// Files returns the template of the part.
func Files() fs.FS { return html.Folder(pageFiles, "page") }

// Scripts returns the scripts and the style sheet, for pages that have the part.
func Scripts() fs.FS { return html.Folder(pageFiles, "page/script") }

// Report is what the part is made from.
type Report struct {
	Project *model.Project
	Table   *series.Table
	Layouts []Layout // the first is the one that others are compared with
	Start   int      // number of the layout that is shown first
	Modes   []Mode   // of a plain box; none for other rooms
	Options []Option // that the reader can switch on; each one alone before it is one of two
	Style   unit.Style

	// Resolution is the smallest change against the first layout that counts.
	Resolution response.Resolution
}

// Layout is a layout that the reader can start from. Its curves lie over the table's grid.
type Layout struct {
	Name      string // "now", "layout 1"
	Layout    model.Layout
	Judgement *response.Judgement
}

// Option is the room with one or two options carried out.
type Option struct {
	Names  []string
	Engine model.EngineKind
	Table  *series.Table // over the domain of the room as it stands
}

// Mode is a resonance that is named at the curve.
type Mode struct {
	Name      string  `json:"name"`
	Frequency float64 `json:"f"`     // Hz
	Width     float64 `json:"width"` // Hz between the points 3 dB down
}

// View is what the template reads.
type View struct {
	Plan    *svg.Drawing
	Graph   svg.Pair
	Starts  []start
	Inputs  []distance
	Heights []height
	Options []string // names
	Rows    []row
	Recipe  string
	Signs   string
	Trust   string
	Hearing string // what the scale is, with the caution of those who listen
	Data    json.RawMessage
}

// start is a layout to begin with.
type start struct {
	Name    string
	Checked bool
}

// distance is one tape distance that the reader can type.
type distance struct{ ID, Label, Unit string }

// height is one height of the woofers to choose from.
type height struct{ Index, Text string }

// row is a figure of the card.
type row struct{ Key, Name string }

// NewView returns the part, or nil if the table holds none of the layouts.
func NewView(r *Report) (*View, error) {
	kept := r.kept()
	if len(kept.Layouts) == 0 {
		return nil, nil
	}
	data, err := newData(kept)
	if err != nil {
		return nil, err
	}
	v := &View{
		Plan: newPlan(kept), Graph: svg.NewPair(func(f svg.Form) *svg.Drawing { return newGraph(kept, f) }),
		Inputs: inputs(kept), Data: data, Trust: trust(kept), Hearing: hearing(kept), Signs: signs(kept), Options: kept.optionNames(),
		Recipe: fmt.Sprintf("%v; each figure is that of the worst of left, right and both", kept.Project.Goal),
	}
	for _, f := range figures {
		v.Rows = append(v.Rows, row{f.key, text.Sentence(card.Names[f.figure])})
	}
	for i, l := range kept.Layouts {
		v.Starts = append(v.Starts, start{l.Name, i == kept.Start})
	}
	if z := kept.Table.Domain.Heights; len(z) > 1 {
		for i, h := range z {
			v.Heights = append(v.Heights, height{fmt.Sprint(i), kept.Style.Tape(h)})
		}
	}
	return v, nil
}

// figures are those of the card that the page computes, by their key in the scripts.
var figures = []struct {
	key    string
	figure response.Figure
}{
	{"spread", response.SpreadFigure}, {"deviation", response.DeviationFigure}, {"within", response.WithinFigure},
	{"dip", response.DipFigure}, {"low", response.LowOctaveFigure},
}

// signs explains the marks behind the figures.
func signs(r *Report) string {
	return fmt.Sprintf("%s better than %s, %s worse, %s too little to hear or too uncertain to tell", card.Signs[response.Better], r.Layouts[0].Name,
		card.Signs[response.Worse], card.Signs[response.NoDifference])
}

// kept returns the report without the layouts that the table does not hold.
func (r *Report) kept() *Report {
	k := *r
	k.Layouts, k.Start = nil, 0
	for i, l := range r.Layouts {
		if !r.Table.Holds(l.Layout) {
			continue
		}
		if i == r.Start {
			k.Start = len(k.Layouts)
		}
		k.Layouts = append(k.Layouts, l)
	}
	return &k
}

// optionNames returns the names of the options, each once.
func (r *Report) optionNames() []string {
	var list []string
	for _, o := range r.Options {
		for _, name := range o.Names {
			if !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return list
}

// free reports whether each speaker goes its own way.
func (r *Report) free() bool { return r.Project.Speakers.Free }

// inputs are the distances that the reader can type.
func inputs(r *Report) []distance {
	of := "cm"
	if r.Style == unit.Imperial {
		of = "in"
	}
	d := &r.Table.Domain
	var list []distance
	if !r.Project.Speakers.Fixed {
		if r.free() {
			list = append(list,
				distance{"live-left-x", "Left woofer from the front wall", of}, distance{"live-left-y", "Left woofer from the left wall", of},
				distance{"live-right-x", "Right woofer from the front wall", of}, distance{"live-right-y", "Right woofer from the left wall", of})
		} else {
			list = append(list, distance{"live-left-x", "Woofers from the front wall", of}, distance{"live-left-y", "Left woofer from the left wall, right woofer from the right wall", of})
		}
	}
	if d.Seats.X.Length() > 0 {
		list = append(list, distance{"live-seat-x", "Ears from the front wall", of})
	}
	if d.Seats.Y.Length() > 0 {
		list = append(list, distance{"live-seat-y", "Ears from the left wall", of})
	}
	return list
}

func trust(r *Report) string {
	words := "Predicted, by the same engine as the rest of this page. Levels here agree with it to " +
		fmt.Sprintf("%g dB, down to %g dB below the mean. ", float64(series.Accuracy), float64(series.Depth))
	if r.Table.Domain.Seats.Y.Length() == 0 && len(r.Project.Seats[0].Zones) > 0 {
		words += fmt.Sprintf("The seat moves along the line %s from the left wall. ", r.Style.Tape(r.Table.Domain.Seats.Y.Lo))
	}
	if len(r.Options) > 0 {
		words += fmt.Sprintf("With options switched on, the %s engine predicts the room with these built; the rules are those of the room as it stands. ", r.Options[0].Engine)
		if slices.ContainsFunc(r.Options, func(o Option) bool { return len(o.Names) > 1 }) {
			words += "Two options stay on together where both can be built; else the one ticked later replaces the other. "
		} else if len(r.Options) > 1 {
			words += "Options are switched on one at a time; evenbass place --pairs packs them two by two. "
		}
	}
	return words + "This part ignores uncertain walls and tape errors: put the places into the room file and run evenbass again before you rely on them."
}

// hearing says what the scale of notes lets the reader hear, and what to take care of.
func hearing(r *Report) string {
	c := text.CautionOf(r.Style, "Hearing and loudspeakers")[0]
	return c.Risk + " Begin at low volume. Semitones sound from " + unit.Frequency(r.Project.Goal.From) +
		" up, one after the other, as loud against each other as both speakers together are predicted at the seat. " +
		"Your own room and speakers add to it, and small speakers leave out the lowest notes."
}

// newGraph draws the layout compared with and the one shown first.
func newGraph(r *Report, form svg.Form) *svg.Drawing {
	first, shown := &r.Layouts[0], &r.Layouts[r.Start]
	c := shown.Judgement.Worst
	g := &svg.Graph{
		ID: form.Name("live-graph"), Form: form, Goal: r.Project.Goal, Title: "Predicted level at the seat",
		Desc: "The table beside the graph holds its figures; arrow keys read it frequency by frequency.",
	}
	trace := func(class, name string, j *response.Judgement) svg.Trace {
		return svg.NewTrace(class, name, r.Table.Grid(), j, c)
	}
	g.Traces = []svg.Trace{trace("now", first.Name, first.Judgement), trace("result", "here", shown.Judgement)}
	return g.Drawing()
}

// newPlan draws the room and its zones, without speakers and seat: the script puts those in.
func newPlan(r *Report) *svg.Drawing {
	size, p := r.Project.Room.Size, r.Project
	v := svg.View{Origin: svg.XY(30, 34), Scale: min(290/size.Y, 420/size.X)}
	d := &svg.Drawing{
		ID: "live-plan", Title: "Plan of the room; speakers and seat can be moved", Frame: v.String(), Style: r.Style,
		Desc:  "The front wall is at the top. Select a speaker or the seat and move it by the arrow keys, or type the distances below.",
		Width: svg.Px(size.Y*v.Scale + 60), Height: svg.Px(size.X*v.Scale + 52),
	}
	d.Rect("floor", v.Box(model.Block{Max: size}))
	t := &r.Table.Domain
	for _, a := range t.Sources {
		d.Rect("zone speakers", v.Box(areaBlock(a)))
	}
	seats := t.Seats
	if seats.Y.Length() < 0.12 {
		seats.Y = seats.Y.Grow(0.06)
	}
	d.Rect("zone seat", v.Box(areaBlock(seats)))
	d.RoomContents(p, v)
	d.Treatments(p, v)
	d.PlanWalls(&p.Room, v)
	d.Openings(p, v)
	d.Text("walltext", svg.XY(float64(d.Width)/2, 14), "front wall")
	d.Key = append(d.Key, svg.KeyEntry{Tint: "speakers", Text: "woofers may be moved here"}, svg.KeyEntry{Tint: "seat", Text: "the seat may be moved here"})
	d.SortKey()
	return d
}

// ChannelNames are what the parts of the pair are called, in the order of [response.Channels].
func channelNames() []string {
	var list []string
	for _, c := range response.Channels {
		list = append(list, text.ChannelText(c))
	}
	return list
}
