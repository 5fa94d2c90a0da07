package report

import (
	"fmt"
	"io"
	"strings"
)

// SubPage writes a search for subwoofers as one HTML file that needs no network: what
// each further one brings, plan, set-up, charts, what it rests on, cautions. The same
// search gives the same bytes.
func SubPage(w io.Writer, m SubReport) error {
	library, err := readLibrary(assetFiles)
	if err != nil {
		return err
	}
	return renderSubs(w, m, library)
}

// renderSubs writes the page around a charting library; "" leaves the charts undrawn.
func renderSubs(w io.Writer, m SubReport, library string) error {
	if err := m.check(); err != nil {
		return err
	}
	view, err := newSubView(&m)
	if err != nil {
		return err
	}
	if err := view.scripts(library); err != nil {
		return err
	}
	if err := view.style("page/subs.css"); err != nil {
		return err
	}
	return writeOldPage(w, "subs.gohtml", view)
}

// subView is what the template reads.
type subView struct {
	Title, Facts, Headline, Stop, Lead, Trust string

	Compare, Walls table
	Firm           string
	Plan           *drawing
	PlanNote       string
	SetupTitle     string // "" if no subwoofer pays
	Setup          table
	SetupNotes     []string
	First          []string // before the first sound
	Others         []table

	CurvesText, WaysText   string
	Sums, Ways             []chartView
	SumLegend, WayLegend   []legendEntry
	Rests, Doubts          []string
	CautionsRule           string
	Cautions               []caution
	Again, Command, Source string
	SourceName             string

	frame
}

func newSubView(m *SubReport) (*subView, error) {
	plan, n := m.shown(), m.Enough()
	v := &subView{
		Title: roomName(m.Project.Room.Name), Facts: m.facts(), Headline: m.headline(), Stop: m.stop(), Lead: m.lead(),
		Trust: trust(m.Result.Engine, m.Result.Why), Compare: m.compare(), Walls: m.wallsTable(), Firm: m.firm(),
		Plan: m.newSubPlan(plan), PlanNote: m.planNote(), First: subCautions(),
		CurvesText: m.curvesText(), WaysText: m.waysText(), Rests: append(m.method(), m.rangeText()),
		CautionsRule: cautionsRule, Cautions: movingCautions(),
		Again: m.again(), Command: m.Run.Command, Source: m.Run.Source, SourceName: sourceName(m.Run.File),
	}
	if n > 0 {
		v.SetupTitle, v.Setup, v.SetupNotes = "Set up "+counted(n), m.setup(plan), m.setupNotes(plan)
	}
	for i := 1; i < len(m.Result.Plans); i++ {
		if i != n {
			v.Others = append(v.Others, m.settings(&m.Result.Plans[i], false))
		}
	}
	if m.Result.Now != nil {
		v.Others = append(v.Others, m.settings(m.Result.Now, true))
	}
	for _, w := range uniqueWarnings(m.Project.Warnings, m.Result.Warnings, m.Warnings) {
		v.Doubts = append(v.Doubts, sentence(string(w))+".")
	}
	return v, v.charts(m)
}

// charts adds a chart of sums a seat, and of ways if there is any subwoofer.
func (v *subView) charts(m *SubReport) (err error) {
	v.SumLegend = subLegend(m.sums(0))
	if v.Sums, err = m.charts("sums", "", m.sums); err != nil || len(m.shown().Subs) == 0 {
		return err
	}
	v.WayLegend = subLegend(m.ways(0))
	v.Ways, err = m.charts("ways", "", m.ways)
	return err
}

// facts is the line under the room's name.
func (m *SubReport) facts() string {
	s, r := m.Style, &m.Project.Room
	parts := []string{
		fmt.Sprintf("%s × %s × %s", s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z)),
		"engine " + m.Result.Engine, "predicted, not measured",
	}
	if !m.Run.Date.IsZero() {
		parts = append(parts, m.Run.Date.Format("2 January 2006"))
	}
	return strings.Join(parts, " · ")
}

// lead says what was searched and by which recipe it is told.
func (m *SubReport) lead() string {
	return fmt.Sprintf("Figures are the spread: half the distance from the highest to the lowest point (%v; worst of left, right, both). "+
		"The speakers and the main seat are %s; %d places for subwoofers %s were looked at.",
		m.Result.Goal, m.mains(), m.Result.Places, m.Project.Subwoofers.Where)
}

func (m *SubReport) planNote() string {
	text := "To scale, the front wall at the top. S is the middle of a subwoofer's box, L and R of a speaker's woofer, the ring a head. "
	if len(m.Project.Subwoofers.Placed) > 0 {
		text += "Dashed is where subwoofers stand now. "
	}
	if m.Style == Both {
		text += "Distances in the drawing are in centimetres; the tables give both. "
	}
	return text + "Below and right of the room are the tape distances to the subwoofers, from the left wall and from the front wall."
}

func (m *SubReport) curvesText() string {
	return fmt.Sprintf("Level over frequency with both speakers playing, smoothed to 1/%d octave, each curve relative to its own mean from %g to %g Hz "+
		"(the shaded width). The tables judge left and right alone too.", m.Result.Goal.Smoothing, m.Result.Goal.From, m.Result.Goal.To)
}

func (m *SubReport) waysText() string {
	return fmt.Sprintf("The same with %s, each part by itself, all relative to the mean of everything together. "+
		"Where the parts are equally strong they may also cancel: there polarity and delay matter most.", counted(len(m.shown().Subs)))
}

// rangeText says what the range over walls is, or that there is none.
func (m *SubReport) rangeText() string {
	if !m.widened() {
		return "Walls that absorb less or more than typical were not looked at."
	}
	return "Hard and soft walls are those that absorb as little and as much as the constructions may; places and settings are held, as if the room turned out so after the set-up."
}

func (m *SubReport) again() string {
	text := "The same room file and version give the same answer to the last digit."
	if m.Run.Version != "" {
		text += " Made by evenbass " + printable(m.Run.Version) + "."
	}
	return text
}
