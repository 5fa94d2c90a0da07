package subwoofer

import (
	"embed"
	"fmt"
	"io"

	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

//go:embed page
var pageFiles embed.FS

// Page writes a search for subwoofers as one HTML file that needs no network: what
// each further one brings, plan, set-up, charts, what the figures rest on, cautions. The
// same search gives the same bytes.
func Page(w io.Writer, m Report) error {
	if err := m.check(); err != nil {
		return err
	}
	return html.Write(w, newPageView(&m), html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline, Stop, Lead, Trust string

	Compare, Walls text.Table
	Certainty      string
	Caveats        []string // that may change the answer
	Plan           svg.Pair
	PlanNote       string // under the plan
	Cards          text.Table
	SetupTitle     string // "" if no subwoofer pays
	Setup          text.Table
	SetupNotes     []string
	First          []string // before the first sound
	Others         []text.Table

	CurvesText, PartsText     string // PartsText is "" without any subwoofer
	Seats                     []seatCurves
	PartLegend                []html.LegendEntry
	Basis, Breaches, Warnings []string

	html.Frame
}

func newPageView(m *Report) *pageView {
	plan, n := m.shown(), m.worthwhile()
	v := &pageView{
		Frame: html.Frame{
			Heading: text.RoomName(m.Project.Room.Name), About: "places and settings for subwoofers", Kicker: "Subwoofers beside the speakers, predicted",
			Facts:  html.Facts(m.Run, text.SizesText(&m.Project.Room, m.Style), "engine "+string(m.Result.Engine.Kind), "predicted, not measured"),
			Folded: true,
		},
		Headline: m.headline(), Stop: m.stop(), Lead: m.lead(),
		Trust: text.Trust(m.Result.Engine, m.Result.Why), Compare: m.compare(), Walls: m.wallsTable(), Certainty: m.certainty(),
		Plan:  svg.NewPair(func(f svg.Form) *svg.Drawing { return m.newPlan(plan, f) }),
		Cards: m.cards(), PlanNote: m.planNote(), First: m.setupCautions(),
		CurvesText: m.curvesText(), Seats: m.newSeatCurves(), Basis: append(m.basis(), m.rangeText()),
		Breaches: m.breachLines(), Caveats: text.Caveats(m.shownWarnings(), m.Style), Warnings: text.WarningSentences(m.shownWarnings(), m.Style),
	}
	if n > 0 {
		v.SetupTitle, v.Setup, v.SetupNotes = "Set up "+counted(n), m.setup(plan), m.setupNotes()
	}
	for i := 1; i < len(m.Result.Plans); i++ {
		if i != n {
			v.Others = append(v.Others, m.settings(&m.Result.Plans[i], false))
		}
	}
	if m.Result.Now != nil {
		v.Others = append(v.Others, m.settings(m.Result.Now, true))
	}
	v.SetCautions(text.MovingCautions(m.Style))
	v.SetRun(m.Run.By(string(m.Result.Engine.Kind)), "room file")
	if len(plan.Units) > 0 {
		v.PartsText, v.PartLegend = m.partsText(), partsLegend()
	}
	v.addContents()
	return v
}

// addContents links to the parts that the page has.
func (v *pageView) addContents() {
	add := func(has bool, id, text string) {
		if has {
			v.Contents = append(v.Contents, html.Link{ID: id, Text: text})
		}
	}
	add(v.SetupTitle != "", "setup", "Set-up")
	add(true, "curves", "Response")
	add(v.PartsText != "", "parts", "Each part")
	add(v.Others != nil, "others", "Other numbers")
	add(true, "basis", "Basis")
	add(true, "cautions", "Cautions")
	add(true, "again", "Re-run")
}

// lead says what was searched and by which recipe the figures are made.
func (m *Report) lead() string {
	return fmt.Sprintf("Figures are the spread: half the distance from the highest to the lowest point (%v; worst of left, right, both). "+
		"The speakers and the main seat are %s; the search tried %d places for subwoofers %s.",
		m.Result.Goal, m.mains(), m.Result.Places, m.Project.Subwoofers.Where)
}

func (m *Report) planNote() string {
	text := "To scale, the front wall at the top. S marks the middle of a subwoofer's box, L and R a speaker's woofer, the ring a seat. "
	if len(m.Project.Subwoofers.Placed) > 0 {
		text += "Dashed boxes are subwoofers where they stand now. "
	}
	if m.Style == unit.Both {
		text += "Distances in the drawing are in centimetres; the tables give both units. "
	}
	return text + "Tape distances to the subwoofers stand below the room (from the left wall) and right of it (from the front wall)."
}

func (m *Report) curvesText() string {
	return fmt.Sprintf("Level at the %s with both speakers playing, smoothed to 1/%d octave, each curve relative to its own mean from %g to %g Hz "+
		"(the shaded band). The tables count left and right alone too.", m.seat(0), m.Result.Goal.Smoothing, m.Result.Goal.From, m.Result.Goal.To)
}

func (m *Report) partsText() string {
	return fmt.Sprintf("The same with %s, each part by itself, all relative to the mean of everything together. "+
		"Parts of equal strength can cancel: polarity and delay matter most there.", counted(len(m.shown().Units)))
}
