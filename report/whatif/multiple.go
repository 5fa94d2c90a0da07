package whatif

import (
	"fmt"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// option is one option on the page, beside the room as it is.
type option struct {
	Heading    string
	Lines      []string
	Graph      *svg.Drawing
	Difference *svg.Drawing
	Plan       *svg.Drawing
}

// channelView is the part of the appendix about one channel: the curve of each option, and all
// levels in third octaves.
type channelView struct {
	Heading string
	Graphs  []*svg.Drawing
	Octaves text.Table
}

// channel is the one that the small graphs show: the worst as things are.
func (w *Report) channel() response.Channel { return w.Result.Now.Judgement.Worst }

// differenceScale is the axis of a difference.
func differenceScale() svg.Scale {
	return svg.Scale{Low: -15, High: 15, Step: 15, Unit: "dB", Height: 112}
}

func newOptions(w *Report) []option {
	var list []option
	for i := range w.Result.States {
		difference := svg.Graph{
			ID: fmt.Sprintf("difference-%d", i+1), Form: svg.Small, Goal: w.Result.Goal, Scale: differenceScale(),
			Title: "Option " + letterOf(i) + ": difference from now", Desc: "How much louder each frequency is than now, each curve relative to its own mean.",
		}
		traces := w.traces(i, w.channel())
		difference.Traces = []svg.Trace{svg.Difference("result", &traces[1], &traces[0])}
		difference.Traces[0].Name = "difference"
		list = append(list, option{
			Heading: w.title(i), Lines: w.changes(i), Graph: w.graph(i, w.channel(), "option"), Difference: difference.Drawing(), Plan: w.plan(i),
		})
	}
	return list
}

// traces are the curves of one channel now and with option i.
func (w *Report) traces(i int, c response.Channel) [2]svg.Trace {
	return [2]svg.Trace{
		svg.NewTrace("now", text.NowName, w.Result.Grid, &w.Result.Now.Judgement, c),
		svg.NewTrace("result", letterOf(i), w.Result.Grid, &w.Result.States[i].Judgement, c),
	}
}

// graph draws one channel with option i over the same now.
func (w *Report) graph(i int, c response.Channel, id string) *svg.Drawing {
	traces := w.traces(i, c)
	g := svg.Graph{
		ID: fmt.Sprintf("%s-%s-%d", id, c, i+1), Form: svg.Small, Goal: w.Result.Goal, Traces: traces[:],
		Title: fmt.Sprintf("Option %s, %s: level over frequency", letterOf(i), text.ChannelText(c)),
		Desc: fmt.Sprintf("The spread is %s now and %s with the option.",
			unit.Spread(w.Result.Now.Judgement.Figures[c].Spread), unit.Spread(w.Result.States[i].Judgement.Figures[c].Spread)),
	}
	return g.Drawing()
}

func newChannels(w *Report) []channelView {
	var list []channelView
	for _, c := range []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone} {
		v := channelView{Heading: text.Sentence(text.ChannelText(c)), Octaves: w.octavesTable(c)}
		for i := range w.Result.States {
			v.Graphs = append(v.Graphs, w.graph(i, c, "channel"))
		}
		list = append(list, v)
	}
	return list
}

// octavesTable lists the level of every state in third octaves.
func (w *Report) octavesTable(c response.Channel) text.Table {
	var columns []text.OctaveColumn
	for i, v := range w.states() {
		columns = append(columns, text.OctaveColumn{Name: stateName(i), Curve: v.Judgement.Curves[c], Mean: v.Judgement.Figures[c].Mean})
	}
	return text.OctavesTable(c, w.Result.Goal, w.Result.Grid, columns)
}

// plan draws the room with an option, the places as they stand. New and moved pieces are highlighted;
// those that are gone are dotted.
func (w *Report) plan(i int) *svg.Drawing {
	p, before := w.Result.States[i].Project, w.Project.Room.Treatments
	if before == nil {
		before = []model.Treatment{}
	}
	size := p.Room.Size
	v := svg.View{Origin: svg.XY(14, 14), Scale: min(132/size.Y, 190/size.X)}
	d := &svg.Drawing{
		ID: fmt.Sprintf("option-%d", i+1), Title: "Plan of the room with option " + letterOf(i), Desc: "The front wall is at the top.", Frame: v.String(),
		Width: svg.Px(size.Y*v.Scale + 28), Height: svg.Px(size.X*v.Scale + 28), Style: w.Style,
	}
	d.Rect("floor", v.Box(model.Block{Max: r3.Vec{X: size.X, Y: size.Y, Z: size.Z}}))
	for _, t := range before {
		if !slices.ContainsFunc(p.Room.Treatments, func(o model.Treatment) bool { return reflect.DeepEqual(o, t) }) {
			d.Rect("gone", v.Box(w.Project.Room.Space(&t)))
		}
	}
	d.Changed(p, before, v)
	d.PlanWalls(&p.Room, v)
	d.Openings(p, v)
	d.Layout(w.Result.Layout, [3]float64{}, &p.Speakers, v)
	d.SortKey()
	return d
}
