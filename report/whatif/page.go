package whatif

import (
	"embed"
	"fmt"
	"io"

	"evenbass/model/response"
	"evenbass/optimize/whatif"
	"evenbass/report/heatmap"
	"evenbass/report/html"
	"evenbass/report/text"
)

//go:embed page
var pageFiles embed.FS

// Page writes a comparison of options as one HTML file that needs no network. The
// same comparison gives the same bytes.
func Page(out io.Writer, w Report) error {
	return html.Write(out, newPageView(&w), heatmap.Files(), html.Folder(pageFiles, "page"))
}

// Part is the same page as a part of a longer one.
func Part(id, title string, w Report) (html.Part, error) {
	return html.NewPart(id, title, false, newPageView(&w), heatmap.Files(), html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline                   string
	Figures                    []text.Table
	Costs, Decay               text.Table
	More                       []moreTable
	OptionsText                string
	Options                    []option
	Channels                   []channelView
	Fading                     *heatmap.Section
	Caveats                    []string // that may change the answer
	Limits, Breaches, Warnings []string

	html.Frame
}

func newPageView(w *Report) *pageView {
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(w.Project.Room.Name), About: "what if", Kicker: "What would these changes do?",
			Facts: html.Facts(w.Run, text.SizesText(&w.Project.Room, w.Style), "engine "+string(w.Result.Engine.Kind), "predicted, not measured"),
			Contents: []html.Link{
				{ID: "options", Text: "Options"}, {ID: "trust", Text: "Reliability"}, {ID: "curves", Text: "Responses"}, {ID: "decay", Text: "Decay"},
				{ID: "cautions", Text: "Cautions"}, {ID: "again", Text: "Re-run"},
			},
			Folded: true,
		},
		Headline: w.headline() + w.placesLine(), Figures: w.cardTables(w.all()), Costs: w.costTable(w.stateTitle), Decay: w.decayTable(), More: w.moreTables(),
		OptionsText: w.optionsText(), Options: newOptions(w), Channels: newChannels(w), Fading: newFading(w),
		Limits: w.limits(), Breaches: w.breachLines(), Caveats: text.Caveats(w.shownWarnings(), w.Style), Warnings: text.WarningSentences(w.shownWarnings(), w.Style),
	}
	v.SetCautions(text.AbsorberCautions(w.Style))
	v.SetRun(w.Run.By(string(w.Result.Engine.Kind)), "room file and options")
	return v
}

// optionsText explains the graphs and plans of the options once for all of them.
func (w *Report) optionsText() string {
	return fmt.Sprintf("%s at the seat, smoothed to 1/%d octave: now dashed, with the option solid, each relative to its own mean in the shaded band. "+
		"Below it, how much louder each frequency is than now. On the plans, to scale and with the front wall at the top, new and moved pieces are filled and those that are gone are dotted.",
		text.Sentence(text.ChannelText(w.channel())), w.Result.Goal.Smoothing)
}

// Headline says what the best option does and costs.
func Headline(w Report) string { return w.headline() }

// newFading draws how long tones stay now and with each option, both speakers together; nil if the
// result does not hold it. The ridge lines compare now with the option that decays fastest, which
// comes last.
func newFading(w *Report) *heatmap.Section {
	panel := func(title string, s *whatif.State) heatmap.Panel {
		return heatmap.NewPanel(text.Shortened(title, 44), s.Fading, &s.Judgement)
	}
	panels := []heatmap.Panel{panel(text.Sentence(text.NowName), &w.Result.Now)}
	fastest := 0
	for i := range w.Result.States {
		if response.MeanFall(w.Result.States[i].Decay) < response.MeanFall(w.Result.States[fastest].Decay) {
			fastest = i
		}
	}
	for i := range w.Result.States {
		if i != fastest {
			panels = append(panels, panel(w.title(i), &w.Result.States[i]))
		}
	}
	if len(w.Result.States) > 0 {
		panels = append(panels, panel(w.title(fastest), &w.Result.States[fastest]))
	}
	for _, p := range panels {
		if p.Map == nil {
			return nil
		}
	}
	return heatmap.NewSection("whatif-fading", panels...)
}
