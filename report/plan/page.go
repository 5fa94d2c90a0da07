package plan

import (
	"embed"
	"fmt"
	"io"

	buildpage "evenbass/report/build"
	"evenbass/report/html"
	"evenbass/report/measured"
	"evenbass/report/place"
	stagepage "evenbass/report/stage"
	"evenbass/report/svg"
	"evenbass/report/text"
	whatifpage "evenbass/report/whatif"
)

//go:embed page
var pageFiles embed.FS

// pageView is what the template reads.
type pageView struct {
	Headline  string
	Gains     text.Table
	Trust     string
	Now       []string // what is wrong as things stand
	Todo      []todo
	Plan      svg.Pair // where to put things
	Missing   []string
	Parts     []html.Part
	Measuring []string

	html.Frame
}

// todo is a step of the list on the first screen.
type todo struct {
	Part, Title string // the part that says more; "" for none
	Lines       []string
}

// Page writes a plan as one HTML file that needs no network. The same plan gives the same bytes.
func Page(w io.Writer, r Report) error {
	in := r.places()
	summary := place.NewSummary(&in)
	v := &pageView{
		Frame: html.Frame{
			Heading: r.roomName(), About: "what to do, step by step", Kicker: "What to do, in the order in which you do it",
			Facts:  html.Facts(r.Run, text.SizesText(&r.project().Room, r.Style), "predicted, not measured"),
			Folded: true,
		},
		Headline: r.headline(), Gains: r.gains(), Trust: summary.Trust + " " + r.engines(), Now: summary.Now[:min(3, len(summary.Now))],
		Todo: r.todo(&summary), Plan: place.SummaryPlan(&in), Missing: r.missingLines(), Measuring: r.measuring(),
	}
	var err error
	if v.Parts, err = r.parts(); err != nil {
		return err
	}
	v.SetParts(v.Parts)
	v.Contents = append(v.Contents,
		html.Link{ID: "check", Text: "Check by measuring"}, html.Link{ID: "cautions", Text: "Cautions"}, html.Link{ID: "again", Text: "Re-run"})
	run := r.Run.By(string(r.Plan.Places.Result.Engine.Kind))
	run.Seed = fmt.Sprint(r.Plan.Places.Result.Seed)
	v.SetRun(run, "room file and seed")
	return html.Write(w, v, append(html.Folders(v.Parts), html.Folder(pageFiles, "page"))...)
}

// parts are the pages of the steps that are there, in the order in which they are done.
func (r *Report) parts() ([]html.Part, error) {
	var list []html.Part
	var fault error
	add := func(p html.Part, err error) *html.Part {
		if err != nil && fault == nil {
			fault = err
		}
		list = append(list, p)
		return &list[len(list)-1]
	}
	if r.Present != nil {
		add(measured.Part("measured", r.measuredTitle(), r.measurements())).Lead = "Those measurements of the room file that show it as it stands."
	}
	add(place.Part("move", "Move", r.places()))
	if r.Plan.Options != nil {
		p := add(whatifpage.Part("compare", "Compare changes", r.options()))
		if p.Lead = r.standing(); r.Plan.ReadyMade != "" {
			p.Lead += " The room file names no options and no stock, so these are examples of what could be built."
		}
	}
	if r.Plan.Stages != nil {
		add(stagepage.Part("first", "Build first", r.stages())).Lead = r.standing() + " A shorter search than that of evenbass stage found these."
	}
	if r.Plan.Pieces != nil {
		add(buildpage.Part("cut", "Buy, cut and hang", r.pieces())).Lead = "The treatments of the room file that do not stand yet, and all stages."
	}
	return list, fault
}

// todo is the list of the first screen.
func (r *Report) todo(summary *place.Summary) []todo {
	var list []todo
	if r.Present == nil || r.Present.Invented() {
		list = append(list, todo{"check", "Measure first, if you can", []string{"A microphone tells more of your room than any prediction."}})
	}
	list = append(list, todo{"move", "Move", summary.Steps})
	if r.Plan.Options != nil {
		list = append(list, todo{"compare", "Compare changes", []string{whatifpage.Headline(r.options())}})
	}
	if r.Plan.Stages != nil {
		lines := stagepage.Lines(r.stages())
		if len(lines) == 0 {
			lines = []string{stagepage.Headline(r.stages())}
		}
		list = append(list, todo{"first", "Build in this order; you can stop after any stage", lines})
	}
	if r.Plan.Pieces != nil {
		b := r.pieces()
		list = append(list, todo{"cut", "Buy, cut and hang", append([]string{buildpage.Headline(b)}, buildpage.Buying(b)...)})
	}
	return append(list, todo{"check", "Measure again, and compare", nil})
}
