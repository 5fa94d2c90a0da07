package present

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/measure/diagnosis"
	"evenbass/model/response"
	"evenbass/optimize/observation"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// Files returns the template "present", which shows a [View].
func Files() fs.FS { return html.Folder(pageFiles, "page") }

// Report is what was measured as a room stands, to be shown.
type Report struct {
	Present    *observation.Present
	Calibrated bool // the room file holds a calibration
	After      After
	Style      unit.Style
}

// After is a state that is predicted for later. The zero value is none.
type After struct {
	Name  string                                          // "layout 1"
	Level func(c response.Channel, f float64) model.Level // dB re the channel's mean in the goal's band
}

// LevelAt returns the level of a judged pair, for [After].
func LevelAt(grid model.Grid, j *response.Judgement) func(response.Channel, float64) model.Level {
	return func(c response.Channel, f float64) model.Level {
		return j.Curves[c][grid.Nearest(f)] - j.Figures[c].Mean
	}
}

// View is what the template reads; nil shows nothing.
type View struct {
	Title    string // of the part that shows it
	Headline string
	Table    text.Table
	Lines    []string
	Graphs   []svg.Pair
	Note     string
	Origin   string           // measured or invented
	Fading   *heatmap.Section // how long tones stay, as measured; nil where no impulse response was
}

// NewView returns nil if nothing was measured.
func NewView(r Report) *View {
	if r.Present == nil {
		return nil
	}
	v := &View{Title: r.title(), Origin: r.origin(), Headline: r.Headline(), Table: r.table(), Lines: r.lines()}
	for i := range r.Present.Speakers {
		one := &r.Present.Speakers[i]
		v.Graphs = append(v.Graphs, svg.NewPair(func(form svg.Form) *svg.Drawing { return graph(one, form) }))
	}
	v.Fading = r.fading()
	if s := r.Present.Prediction; s != nil {
		v.Note = r.origins() + ": solid. Predicted: dashed, with the speakers' roll-off if the room file gives one. Each is relative to its own mean in the goal's band. " + text.Trust(s.Engine, s.Why)
	}
	return v
}

// fading draws how long tones stay, as measured: left and right on one scale or, without them, what there is.
func (r Report) fading() *heatmap.Section {
	var panels []heatmap.Panel
	for i := range r.Present.Speakers {
		s := &r.Present.Speakers[i]
		if a := s.Measured; a.Fading != nil && (s.Speaker != model.BothSpeakers || len(panels) == 0) {
			panels = append(panels, heatmap.Panel{Title: text.Sentence(s.Speaker.String()) + ", " + Origin(s.Invented()), Map: a.Fading, Reference: a.Figures.Mean})
		}
	}
	if len(panels) == 0 {
		return nil
	}
	return heatmap.NewSection("present-fading", panels...)
}

// WriteText writes the same for a terminal; nothing if nothing was measured.
func WriteText(b *strings.Builder, r Report) {
	if v := NewView(r); v != nil {
		b.WriteString("\n" + text.Wrap(v.Headline, text.Columns, "") + "\n")
		text.WriteTable(b, v.Table)
		text.WriteList(b, r.shows(), v.Lines)
	}
}

// Headline says in two or three sentences what was measured and how the prediction meets it; empty
// if nothing was measured.
func (r Report) Headline() string {
	if r.Present == nil {
		return ""
	}
	var measured, predicted []string
	var compared []*comparison.Comparison
	for i := range r.Present.Speakers {
		s := &r.Present.Speakers[i]
		measured = append(measured, fmt.Sprintf("%s %s", r.name(s), unit.Spread(s.Measured.Card.Spread)))
		if s.Comparison != nil {
			predicted = append(predicted, unit.Spread(s.Comparison.Before.Card.Spread))
			compared = append(compared, s.Comparison)
		}
	}
	words := fmt.Sprintf("%s: %s (%v).", r.standing(), strings.Join(measured, ", "), r.Present.Speakers[0].Measured.Goal)
	if len(compared) == 0 {
		return words
	}
	agreement := NewAgreement(compared...)
	words += fmt.Sprintf(" Predicted: %s. %s", strings.Join(predicted, ", "), agreement.Sentence(""))
	if !agreement.Close() && !r.Calibrated {
		words += " Calibrate the room file before you build or move anything (evenbass calibrate)."
	}
	return words
}

// table holds what was measured beside what is predicted.
func (r Report) table() text.Table {
	t := text.Table{
		Caption: r.now() + ", and predicted for the same place: spread and deepest dip, dB re the mean of the band.",
		Head:    []string{"", "spread,\n" + r.origin(), "spread,\npredicted", "deepest dip,\n" + r.origin(), "deepest dip,\npredicted", "curves differ\non average"}, Align: "lrrrrr",
	}
	for i := range r.Present.Speakers {
		s := &r.Present.Speakers[i]
		is := s.Measured.Card
		row := []string{r.name(s), unit.Spread(is.Spread), unit.Unknown, dip(is.Dip), unit.Unknown, unit.Unknown}
		if c := s.Comparison; c != nil {
			row[2], row[4], row[5] = unit.Spread(c.Before.Card.Spread), dip(c.Before.Card.Dip), unit.Difference(c.Typical)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func dip(d response.Dip) string {
	if d.Level == 0 {
		return unit.Unknown
	}
	return unit.Decibels(d.Level) + "\nat " + unit.Frequency(d.Frequency)
}

// lines say what each fault comes from and what the predictions have there, then what to do next.
func (r Report) lines() []string {
	lines := FaultLines(r.Present.Faults, SpeakerName, r.predicted)
	return append(lines, r.Next()...)
}

// Next says what to do next about what was measured, and which measurement would teach most if that is known.
func (r Report) Next() []string {
	lines := []string{NextLine(r.Present.Next, r.Style)}
	if line := Teaching(r.Present, r.Style); line != "" {
		lines = append(lines, line)
	}
	return lines
}

// near is how far a measured fault may be from the predicted one, as a share of its frequency. Our own
// choice, no source: sizes and the speed of sound by tape and thermometer leave 2 %, and neighbouring dips
// are seldom closer than this.
const near = 0.06

// predicted says what the predictions have where a fault was measured.
func (r Report) predicted(f diagnosis.Fault) string {
	words := ""
	for i := range r.Present.Speakers {
		s := &r.Present.Speakers[i]
		if s.Speaker != f.Speaker || s.Comparison == nil {
			continue
		}
		before := s.Comparison.Before
		level := before.At(before.Curve, f.Feature.Frequency) - before.Figures.Mean
		words = fmt.Sprintf(" Predicted there: %s.", unit.Decibels(level))
		if off := level - f.Feature.Level; off > closeEnough || off < -closeEnough {
			words = fmt.Sprintf(" The prediction has none there, but %s.", unit.Decibels(level))
		}
		for _, p := range before.Features {
			if x := p.Frequency/f.Feature.Frequency - 1; p.Peak == f.Feature.Peak && x < near && x > -near {
				words = fmt.Sprintf(" The prediction has it at %s, %s.", unit.Frequency(p.Frequency), unit.Decibels(p.Level))
				break
			}
		}
	}
	if r.After.Level != nil {
		words += fmt.Sprintf(" %s: %s predicted there.", text.Sentence(r.After.Name), unit.Decibels(r.After.Level(f.Feature.Channel, f.Feature.Frequency)))
	}
	return words
}

// graph draws one speaker as measured over what is predicted.
func graph(s *observation.PresentSpeaker, form svg.Form) *svg.Drawing {
	title, made := text.Sentence(s.Speaker.String()), Origin(s.Invented())
	g := svg.Graph{
		ID: form.Name("present-" + s.Speaker.String()), Form: form, Goal: s.Measured.Goal, Title: title + ", " + made + ": level over frequency",
		Desc: CurveText(made, s.Measured),
	}
	if s.Comparison != nil {
		g.Title = title + ", " + made + " and predicted: level over frequency"
		g.Desc += CurveText("predicted", s.Comparison.Before)
		g.Traces = append(g.Traces, Trace("now", "predicted", s.Comparison.Before))
	}
	g.Traces = append(g.Traces, Trace("result", made, s.Measured))
	for i := range g.Traces {
		if form == svg.Narrow {
			g.Traces[i].Spread = "" // there is no room for it beside both names
		}
	}
	return g.Drawing()
}

// Trace returns the smoothed curve of an analysis, re its mean in the goal's band.
func Trace(class, name string, a *analysis.Analysis) svg.Trace {
	f := a.Figures
	t := svg.Trace{
		Class: class, Name: name, Spread: unit.Spread(f.Spread), X: a.Grid,
		Extent: [2]float64{float64(f.Lowest.Level), float64(f.Highest.Level)},
	}
	for _, l := range a.Curve {
		t.Y = append(t.Y, float64(l-f.Mean))
	}
	return t
}

// CurveText says in words what a curve shows.
func CurveText(name string, a *analysis.Analysis) string {
	f := a.Figures
	return fmt.Sprintf("%s: spread %s, lowest %s at %s, highest %s at %s. ", name, unit.Spread(f.Spread),
		unit.Decibels(f.Lowest.Level), unit.Frequency(f.Lowest.Frequency), unit.Decibels(f.Highest.Level), unit.Frequency(f.Highest.Frequency))
}
