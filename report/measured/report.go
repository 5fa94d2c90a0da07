package measured

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/diagnosis"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/recording"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is what was measured in one state of a room, for a page.
type Report struct {
	Room     string // the room's name
	Analyses []*analysis.Analysis
	Names    []string   // of the analyses; nil names them by their speakers
	Box      *model.Box // the room as a plain box, whose modes are predicted beside those found; nil if it is none
	Style    unit.Style
	Run      html.Run
}

// name is what a measurement is called on the page.
func (r Report) name(a *analysis.Analysis) string {
	if i := slices.Index(r.Analyses, a); r.Names != nil && i >= 0 {
		return r.Names[i]
	}
	return a.Measurement.Speaker.String()
}

// heading is the same at the beginning of a line.
func (r Report) heading(a *analysis.Analysis) string {
	if r.Names != nil {
		return r.name(a)
	}
	return present.SpeakerName(a)
}

// Page writes what was measured as one HTML file that needs no network. The same data give the
// same bytes.
func Page(w io.Writer, r Report) error { return r.view().write(w) }

// Part is the same page as a part of a longer one.
func Part(id, title string, r Report) (html.Part, error) { return r.view().part(id, title) }

func (r Report) view() *view {
	var all []*measure.Measurement
	for _, a := range r.Analyses {
		all = append(all, a.Measurement)
	}
	v := &view{
		Headline: r.headline(), Lines: r.shows(), Card: r.cardTable(),
		Frame: html.Frame{
			Heading: text.RoomName(r.Room), About: "measured", Kicker: "What was measured",
			Facts: html.Facts(r.Run, "measured, not predicted"),
		},
	}
	if recording.InventedAll(all...) {
		v.About, v.Kicker, v.Facts = "invented measurement", "An example, to try things out", html.Facts(r.Run, "invented, not measured")
	}
	v.Sections = append(v.Sections, r.curveSection())
	decays := section{ID: "decay", Title: "Decay"}
	modes := section{ID: "modes", Title: "Modes"}
	v.Sections = append(v.Sections, r.fadings()...)
	for _, a := range r.Analyses {
		named := r.heading(a)
		if a.Decays != nil {
			decays.Tables = append(decays.Tables, decayTable(named, a))
		}
		if len(a.Modes) > 0 {
			modes.Tables = append(modes.Tables, modesTable(named, a, r.Box))
		}
	}
	for _, s := range []section{decays, modes} {
		if s.Tables != nil {
			v.Sections = append(v.Sections, s)
		}
	}
	v.Sections = append(v.Sections, section{ID: "limits", Title: "What the data cannot tell", List: append(recording.Doubts(all...), recording.Notes(all...)...)}, recipeSection(r.Analyses...))
	v.SetRun(r.Run, "room file and measurement")
	return v
}

// fadings draws how long tones stay: left beside right on one scale, any other by itself.
func (r Report) fadings() []section {
	var list []section
	left, right := r.pair()
	both, paired := fadingSection("fading-sides", []string{"Left", "Right"}, left, right)
	if paired {
		both.Title += ": left and right"
		list = append(list, both)
	}
	for i, a := range r.Analyses {
		if paired && (a == left || a == right) {
			continue
		}
		if s, ok := fadingSection(fmt.Sprintf("fading-%d", i+1), []string{r.heading(a)}, a); ok {
			s.Title += ": " + r.name(a)
			list = append(list, s)
		}
	}
	return list
}

// headline says how even the measured response is.
func (r Report) headline() string {
	worst := r.Analyses[0]
	for _, a := range r.Analyses {
		if a.Card.Spread > worst.Card.Spread {
			worst = a
		}
	}
	begin := "Measured"
	if worst.Measurement.Invented() {
		begin = "Invented, not measured"
	}
	words := fmt.Sprintf("%s: %s (%v)", begin, unit.Spread(worst.Card.Spread), worst.Goal)
	if len(r.Analyses) > 1 {
		words += ", " + r.name(worst) + " being the least even"
	}
	if fall := worst.Card.Fall.Mean; fall > 0 {
		words += fmt.Sprintf("; 20 dB of decay take %s on average", unit.Seconds(fall))
	}
	return words + "."
}

// cardTable lists the cards of all speakers.
func (r Report) cardTable() text.Table {
	t := text.Table{Caption: fmt.Sprintf("Figures (%v), by the recipe of predictions.", r.Analyses[0].Goal), Head: []string{""}}
	for _, f := range response.FigureList {
		t.Rows = append(t.Rows, []string{card.Names[f]})
	}
	for _, a := range r.Analyses {
		t.Head = append(t.Head, r.name(a))
		for i, f := range response.FigureList {
			t.Rows[i] = append(t.Rows[i], card.Cell(a.Card, f))
		}
	}
	return t
}

// pair returns left and right, if each was measured once.
func (r Report) pair() (left, right *analysis.Analysis) {
	if r.Names != nil {
		return nil, nil
	}
	for _, a := range r.Analyses {
		switch a.Measurement.Speaker {
		case model.LeftSpeaker:
			left = a
		case model.RightSpeaker:
			right = a
		}
	}
	return left, right
}

// curveSection draws the curve of each speaker, with its noise, and left less right.
func (r Report) curveSection() section {
	s := section{ID: "curves", Title: "Level at the seat", Lead: "Each curve is relative to its own mean in the goal's band, which is shaded. A dotted line is the noise, where it comes into sight."}
	for i, a := range r.Analyses {
		label := r.name(a)
		if r.Names != nil {
			label = "measured" // a file's name has no room beside the curve
		}
		s.Graphs = append(s.Graphs, svg.NewPair(func(form svg.Form) *svg.Drawing {
			g := svg.Graph{
				ID: form.Name(fmt.Sprintf("curve-%d", i+1)), Form: form, Goal: a.Goal,
				Title: r.heading(a) + ": level over frequency", Desc: present.CurveText(r.name(a), a),
				Traces: []svg.Trace{present.Trace("result", label, a)},
			}
			if t, ok := noiseTrace(a); ok {
				g.Traces = append(g.Traces, t)
			}
			return g.Drawing()
		}))
	}
	left, right := r.pair()
	if left == nil || right == nil || len(left.Grid) != len(right.Grid) {
		return s
	}
	var difference []model.Level
	var sum, n float64
	for i, f := range left.Grid {
		d := left.Curve[i] - right.Curve[i]
		difference = append(difference, d)
		if f >= left.Goal.From && f <= left.Goal.To {
			sum, n = sum+math.Abs(float64(d)), n+1
		}
	}
	s.Graphs = append(s.Graphs, differenceGraph("curve-sides", "Left less right", left.Grid, difference, left.Goal))
	s.Note = fmt.Sprintf("Left and right differ by %s on average within the band.", unit.Difference(model.Level(sum/n)))
	return s
}

// shows says what dips and peaks come from, then what to measure next.
func (r Report) shows() []string {
	faults := diagnosis.Find(r.Analyses)
	return append(present.FaultLines(faults, r.heading, nil), present.NextLine(diagnosis.Best(r.Analyses, faults), r.Style))
}

// Text returns the causes of dips and peaks, and what to measure next, for a terminal.
func Text(r Report) string {
	var b strings.Builder
	text.WriteList(&b, "What it shows", r.shows())
	return b.String()
}

// Lines say how even the measured response is, then the causes of dips and peaks.
func Lines(r Report) []string { return append([]string{r.headline()}, r.shows()...) }
