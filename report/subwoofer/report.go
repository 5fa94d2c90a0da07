package subwoofer

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/optimize/subwoofer"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a search for subwoofers and what is shown with it, for [Text], [Page],
// [JSON] and [CSV].
type Report struct {
	Project  *model.Project
	Result   *subwoofer.Result
	Grid     model.Grid      // of the transfers, Hz
	Best     bool            // speakers and main seat are at the best places found, not where they stand
	Warnings []model.Warning // beyond those of project and result
	Full     bool            // the text holds everything, not only what comes first
	Style    unit.Style
	Run      html.Run
}

// check reports what keeps a report from being shown at all.
func (m *Report) check() error {
	switch {
	case m.Project == nil || m.Project.Subwoofers == nil:
		return errors.New("report: no subwoofers to show")
	case m.Result == nil || len(m.Result.Plans) == 0:
		return errors.New("report: no plan of subwoofers to show")
	}
	return nil
}

// worthwhile returns how many subwoofers pay: the last of the plans that gains at least
// [subwoofer.LeastGain] over the one with fewer that paid.
func (m *Report) worthwhile() int {
	n := 0
	for i := range m.Result.Plans {
		if m.Result.Plans[n].Robust-m.Result.Plans[i].Robust >= subwoofer.LeastGain {
			n = i
		}
	}
	return n
}

// mains says where the speakers and the main seat are.
func (m *Report) mains() string {
	if m.Best {
		return "at the best places found for them"
	}
	return "where they stand now"
}

// headline says in one sentence what subwoofers gain.
func (m *Report) headline() string {
	n, plans := m.worthwhile(), m.Result.Plans
	if n == 0 {
		return fmt.Sprintf("No subwoofer reduces the spread by %s or more.", unit.Difference(subwoofer.LeastGain))
	}
	none, best := m.card(0), m.card(n)
	return fmt.Sprintf("%s: %s instead of %s at the %s%s.", text.Sentence(counted(n)), unit.Spread(plans[n].Spread()), unit.Spread(plans[0].Spread()), m.seat(0),
		card.Price(&none, &best))
}

// numberWord writes a small number as a word.
func numberWord(n int) string { return [...]string{"no", "one", "two", "three", "four"}[n] }

// counted names a number of subwoofers.
func counted(n int) string {
	if n < 2 {
		return numberWord(n) + " subwoofer"
	}
	return numberWord(n) + " subwoofers"
}

// seat names a seat.
func (m *Report) seat(i int) string { return text.Printable(m.Result.Plans[0].Seats[i].Name) }

// cut reports whether the search was stopped before all numbers of subwoofers were tried.
func (m *Report) cut() bool {
	return slices.ContainsFunc(m.Result.Warnings, func(w model.Warning) bool { _, ok := w.(model.PlansCut); return ok })
}

// stop says where a further subwoofer no longer pays.
func (m *Report) stop() string {
	n, plans := m.worthwhile(), m.Result.Plans
	switch last := len(plans) - 1; {
	case m.cut() && last == n:
		return "The search was stopped before more were tried."
	case last > n && n == 0:
		return "Those tried gain less: do without, or allow other places in the room file."
	case last > n:
		return fmt.Sprintf("Adding more gains less than %s: stop at %s.", unit.Difference(subwoofer.LeastGain), numberWord(n))
	case n == 0 && m.Project.Subwoofers.HighPass > 0:
		return "No place tried does better than the speakers alone, which then run without their high-pass."
	case n == 0:
		return "No place tried does better than the speakers alone."
	case last < m.Result.Most:
		return "Another one does not help, wherever it stands."
	}
	return ""
}

// compare is the table of the plans.
func (m *Report) compare() text.Table {
	plans := m.Result.Plans
	t := text.Table{
		Caption: fmt.Sprintf("What each further subwoofer gains (%v; worst of left, right, both)", m.Result.Goal),
		Head:    []string{"subwoofers"},
	}
	for i := range plans[0].Seats {
		t.Head = append(t.Head, m.seat(i))
	}
	t.Head = append(t.Head, "all seats,\nears a little off", "gain")
	row := func(name string, p *subwoofer.Plan, gain string) {
		cells := []string{name}
		for i := range p.Seats {
			cells = append(cells, unit.Spread(p.Seats[i].Judgement.Spread()))
		}
		t.Rows = append(t.Rows, append(cells, unit.Spread(p.Robust), gain))
	}
	for n := range plans {
		gain := ""
		if n > 0 {
			gain = unit.GainText(plans[n-1].Robust - plans[n].Robust)
		}
		row(planName(n), &plans[n], gain)
	}
	if now := m.Result.Now; now != nil {
		row(presentName(now), now, unit.GainText(plans[0].Robust-now.Robust))
	}
	return t
}

// shortCards compares none with the plan that pays, or with one subwoofer where none does.
func (m *Report) shortCards() text.Table {
	n := m.worthwhile()
	if n == 0 && len(m.Result.Plans) > 1 {
		n = 1
	}
	states := []card.State{m.card(0)}
	if n > 0 {
		states = append(states, m.card(n))
	}
	return m.cardsOf(states)
}

// card returns the card of plan n at the main seat; -1 is the present subwoofers.
func (m *Report) card(n int) card.State {
	if n < 0 {
		return card.State{Name: "present", Card: m.Result.Now.Seats[0].Card}
	}
	return card.State{Name: planName(n), Card: m.Result.Plans[n].Seats[0].Card}
}

// cards compares the cards of the plans at the main seat with the speakers alone.
func (m *Report) cards() text.Table {
	var states []card.State
	for n := range m.Result.Plans {
		states = append(states, m.card(n))
	}
	if m.Result.Now != nil {
		states = append(states, m.card(-1))
	}
	return m.cardsOf(states)
}

func (m *Report) cardsOf(states []card.State) text.Table {
	t := card.Table(states, true, m.Style)
	t.Head[0] = "subwoofers"
	t.Caption = card.Caption("At the "+m.seat(0)+", by number of subwoofers", states, true)
	return t
}

// settings is the table of what one plan sets; present is for subwoofers where they stand
// already.
func (m *Report) settings(p *subwoofer.Plan, present bool) text.Table {
	t := text.Table{
		Caption: text.Sentence(counted(len(p.Units))),
		Head:    []string{"", "from front wall", "from left wall", "polarity", "delay", "gain", "low-pass"},
		Align:   "lrrlrrr",
	}
	if present {
		t.Caption = "At their present places, with the best settings"
	}
	for i, s := range p.Units {
		t.Rows = append(t.Rows, []string{
			fmt.Sprintf("subwoofer %d", i+1), m.Style.Cell(s.Place.Driver.X), m.Style.Cell(s.Place.Driver.Y),
			polarity(s.Setting), milliseconds(s.Setting.Delay), unit.Decibels(s.Setting.Gain), corner(s.Setting.LowPass),
		})
	}
	return t
}

func polarity(k subwoofer.Setting) string {
	if k.Reversed {
		return "reversed"
	}
	return "normal"
}

// milliseconds writes a time in s: "4.2 ms".
func milliseconds(s float64) string { return unit.Decimal(1000*s, 1) + " ms" }

// instructions say how to set up one plan, one line each.
func (m *Report) instructions(p *subwoofer.Plan) []string {
	var lines []string
	for i, s := range p.Units {
		lines = append(lines, fmt.Sprintf("Subwoofer %d: put the middle of the box %s from the left wall and %s from the front wall%s. Set polarity %s, delay %s, gain %s, low-pass %s.",
			i+1, m.Style.Tape(s.Place.Driver.Y), m.Style.Tape(s.Place.Driver.X), m.back(s.Place),
			polarity(s.Setting), milliseconds(s.Setting.Delay), unit.Decibels(s.Setting.Gain), corner(s.Setting.LowPass)))
	}
	if hp := m.Project.Subwoofers.HighPass; hp > 0 && len(p.Units) > 0 {
		lines = append(lines, fmt.Sprintf("Both speakers: high-pass at %s, %v.", corner(hp), m.Project.Subwoofers.Filter))
	}
	return lines
}

// backWall returns the wall that a box has its back to, if any.
func (m *Report) backWall(q model.SubwooferPlace) (wall model.Face, ok bool) {
	if m.Project.Subwoofers.Where == model.Anywhere || !m.Project.Room.Plain() {
		return 0, false
	}
	size := m.Project.Room.Size
	near, far, faces := q.Driver.X, size.X-q.Driver.X, [2]model.Face{model.Front, model.Back}
	if q.Turned {
		near, far, faces = q.Driver.Y, size.Y-q.Driver.Y, [2]model.Face{model.Left, model.Right}
	}
	wall, off := faces[0], near
	if far < near {
		wall, off = faces[1], far
	}
	return wall, off <= m.Project.Subwoofers.Box.Depth/2+model.SubwooferGap+0.01
}

// back says which wall a box has its back to.
func (m *Report) back(q model.SubwooferPlace) string {
	wall, ok := m.backWall(q)
	if !ok {
		return ""
	}
	text := fmt.Sprintf(", its back to the %s with %s of air", wall.Wall(), m.Style.Tape(model.SubwooferGap))
	if q.Corner {
		text += ", in the corner"
	}
	return text
}

// basis says what the settings mean and what the figures rest on.
func (m *Report) basis() []string {
	s := m.Project.Subwoofers
	return []string{
		fmt.Sprintf("All subwoofers play the sum of left and right through a low-pass (%v). %s", s.Filter, m.gainNote()),
		"The model treats loudspeakers as points that are flat outdoors down to their low limit" + m.lowLimits() + ".",
		fmt.Sprintf("Your amplifier may name or count a %s filter differently: match the corner frequency and the slope.", family(s.Filter)),
		"The figures judge how even the level is. A long delay can help that and still sound late: of two settings about as good, choose the shorter delay.",
		"Places and settings are predicted, and the walls are uncertain. Measure at the seat, and trim gain and delay by ear and microphone.",
	}
}

// gainNote says what a gain is relative to.
func (m *Report) gainNote() string {
	return "Gain is relative to one speaker: at 0 dB both are equally loud at " + m.Style.Join("1 m", "3 ft") + " outdoors, for a signal in one channel."
}

// family is what kind of filter a filter is.
func family(f model.Filter) string {
	if f == model.LinkwitzRiley4 {
		return "Linkwitz-Riley"
	}
	return "Butterworth"
}

// lowLimits names those that are given.
func (m *Report) lowLimits() string {
	var parts []string
	if v := m.Project.Speakers.LowLimit; v > 0 {
		parts = append(parts, fmt.Sprintf("%s for the speakers, %v", unit.Nominal(v), m.Project.Speakers.Alignment))
	}
	if v := m.Project.Subwoofers.LowLimit; v > 0 {
		parts = append(parts, fmt.Sprintf("%s for the subwoofers, %v", unit.Nominal(v), m.Project.Subwoofers.Alignment))
	}
	if len(parts) == 0 {
		return " (none is given)"
	}
	return " (−3 dB: " + strings.Join(parts, ", ") + ")"
}

// setupCautions are those that concern setting up subwoofers.
func (m *Report) setupCautions() []string {
	return []string{
		"Switch everything off before you plug in cables. Start every test sound quietly: bass can damage drivers and ears before it sounds loud.",
		"Lift anything over about " + m.Style.Join("15 kg", "35 lb") + " with two people, from the knees, and keep fingers clear when you set it down. " +
			"Use feet that do not slide, and put nothing on top that can fall.",
		"Keep the gap behind the box free, and heaters, sockets, vents and ways out too.",
		"Bass goes through walls. Neighbours and house rules decide how loud and how late.",
	}
}

// breachLines names the rules that the present places break, if the speakers stay there.
func (m *Report) breachLines() []string {
	if m.Best {
		return nil
	}
	return text.PresentBreaches(m.Project, m.Style)
}

// shownWarnings are those of project, search and caller, each once.
func (m *Report) shownWarnings() []model.Warning {
	return text.UniqueWarnings(m.Project.Warnings, m.Result.Warnings, m.Warnings)
}
