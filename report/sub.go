package report

import (
	"errors"
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
)

// SubReport is a search for subwoofers with all that is told of it.
type SubReport struct {
	Project  *model.Project
	Result   *optimize.SubResult
	Grid     model.Grid      // of the transfers, Hz
	Best     bool            // the pair and the chair are at the best places found, not where they stand
	Warnings []model.Warning // beyond those of project and result
	Style    Style
	Run      Run
}

// check reports what keeps a report from being shown at all.
func (m *SubReport) check() error {
	switch {
	case m.Project == nil || m.Project.Subwoofers == nil:
		return errors.New("report: no subwoofers to show")
	case m.Result == nil || len(m.Result.Plans) == 0:
		return errors.New("report: no plan of subwoofers to show")
	}
	return nil
}

// Enough returns how many subwoofers pay: the last of the plans that gains at least
// [optimize.Pays] on the one with fewer that paid.
func (m *SubReport) Enough() int {
	n := 0
	for i := range m.Result.Plans {
		if m.Result.Plans[n].Robust-m.Result.Plans[i].Robust >= optimize.Pays {
			n = i
		}
	}
	return n
}

// mains says where the pair and the chair are.
func (m *SubReport) mains() string {
	if m.Best {
		return "at the best places found for them"
	}
	return "where they stand now"
}

// headline says in one sentence what subwoofers bring.
func (m *SubReport) headline() string {
	n, plans := m.Enough(), m.Result.Plans
	if n == 0 {
		return fmt.Sprintf("No subwoofer evens out this seat by %s or more.", Difference(optimize.Pays))
	}
	return fmt.Sprintf("%s: %s instead of %s at the %s.", sentence(counted(n)), Spread(plans[n].Spread()), Spread(plans[0].Spread()), m.seat(0))
}

// counted names a number of subwoofers.
func counted(n int) string {
	switch n {
	case 0:
		return "no subwoofer"
	case 1:
		return "one subwoofer"
	}
	return [...]string{"two", "three", "four"}[n-2] + " subwoofers"
}

// seat names a seat.
func (m *SubReport) seat(i int) string { return printable(m.Result.Plans[0].Seats[i].Name) }

// stop says where a further subwoofer no longer pays.
func (m *SubReport) stop() string {
	n, plans := m.Enough(), m.Result.Plans
	switch last := len(plans) - 1; {
	case last > n && n == 0:
		return "What was tried gains less: leave it, or change what the room file allows."
	case last > n:
		return fmt.Sprintf("More than %s gain less than %s: stop there.", counted(n), Difference(optimize.Pays))
	case n == 0 && m.Project.Subwoofers.HighPass > 0:
		return "Nothing that was tried does better than the speakers alone, which then run without their high-pass."
	case n == 0:
		return "Nothing that was tried does better than the speakers alone."
	case last < m.Result.Most:
		return "A further one brings nothing, wherever it stands."
	}
	return ""
}

// compare is the table of the plans.
func (m *SubReport) compare() table {
	plans := m.Result.Plans
	t := table{
		Caption: fmt.Sprintf("What each further subwoofer brings (%v; worst of left, right, both)", m.Result.Goal),
		Head:    []string{"subwoofers"},
	}
	for i := range plans[0].Seats {
		t.Head = append(t.Head, m.seat(i))
	}
	t.Head = append(t.Head, "all, heads moving", "gain")
	row := func(name string, p *optimize.SubPlan, gain string) {
		cells := []string{name}
		for i := range p.Seats {
			cells = append(cells, Spread(p.Seats[i].Judgement.Spread()))
		}
		t.Rows = append(t.Rows, append(cells, Spread(p.Robust), gain))
	}
	for n := range plans {
		gain := ""
		if n > 0 {
			gain = gainText(plans[n-1].Robust - plans[n].Robust)
		}
		row(planName(n), &plans[n], gain)
	}
	if now := m.Result.Now; now != nil {
		row(nowPlanName(now), now, gainText(plans[0].Robust-now.Robust))
	}
	return t
}

// settings is the table of what one plan sets; now is for subwoofers that stand already.
func (m *SubReport) settings(p *optimize.SubPlan, now bool) table {
	t := table{
		Caption: sentence(counted(len(p.Subs))),
		Head:    []string{"", "from front wall", "from left wall", "polarity", "delay", "gain", "low-pass"},
		Align:   "lrrlrrr",
	}
	if now {
		t.Caption = "Where they stand now, set as well as can be"
	}
	for i, s := range p.Subs {
		t.Rows = append(t.Rows, []string{
			fmt.Sprintf("subwoofer %d", i+1), m.Style.cell(s.Perch.Driver.X), m.Style.cell(s.Perch.Driver.Y),
			polarity(s.Knobs), Milliseconds(s.Knobs.Delay), Decibels(s.Knobs.Gain), fmt.Sprintf("%s Hz", decimal(s.Knobs.LowPass, 0)),
		})
	}
	return t
}

func polarity(k optimize.Knobs) string {
	if k.Reversed {
		return "reversed"
	}
	return "normal"
}

// Milliseconds writes a time in s: "4.2 ms".
func Milliseconds(s float64) string { return decimal(1000*s, 1) + " ms" }

// instructions tell how to set up one plan, one line each.
func (m *SubReport) instructions(p *optimize.SubPlan) []string {
	var lines []string
	for i, s := range p.Subs {
		lines = append(lines, fmt.Sprintf("Subwoofer %d: tape the middle of the box %s from the left wall and %s from the front wall%s; polarity %s, delay %s, gain %s, low-pass %s Hz.",
			i+1, m.Style.Tape(s.Perch.Driver.Y), m.Style.Tape(s.Perch.Driver.X), m.back(s.Perch),
			polarity(s.Knobs), Milliseconds(s.Knobs.Delay), Decibels(s.Knobs.Gain), decimal(s.Knobs.LowPass, 0)))
	}
	if hp := m.Project.Subwoofers.HighPass; hp > 0 && len(p.Subs) > 0 {
		lines = append(lines, fmt.Sprintf("The two speakers: high-pass at %s Hz, %v.", decimal(hp, 0), m.Project.Subwoofers.Filter))
	}
	return lines
}

// back says which wall a box has its back to.
func (m *SubReport) back(q model.Perch) string {
	if m.Project.Subwoofers.Where == model.Anywhere || !m.Project.Room.Plain() {
		return ""
	}
	size := m.Project.Room.Size
	near, far, face := q.Driver.X, size.X-q.Driver.X, [2]model.Face{model.Front, model.Back}
	if q.Turned {
		near, far, face = q.Driver.Y, size.Y-q.Driver.Y, [2]model.Face{model.Left, model.Right}
	}
	wall, off := face[0], near
	if far < near {
		wall, off = face[1], far
	}
	if off > m.Project.Subwoofers.Box.Depth/2+model.SubwooferGap+0.01 {
		return ""
	}
	text := fmt.Sprintf(", its back to the %s with %s of air", wall.Wall(), m.Style.Tape(model.SubwooferGap))
	if q.Corner {
		text += ", in the corner"
	}
	return text
}

// method says what the settings mean and what they rest on.
func (m *SubReport) method() []string {
	s := m.Project.Subwoofers
	lines := []string{
		fmt.Sprintf("All subwoofers play the sum of left and right. Their low-pass is a %v. Gain is against one speaker: at 0 dB the two are equally loud at 1 m outdoors, for a signal in one channel.", s.Filter),
		"Loudspeakers are taken as points that are flat outdoors down to their low limit" + m.lowLimits() + ".",
		fmt.Sprintf("A filter of the %s may be named or counted otherwise on your amplifier: what counts is the corner and the slope.", kindOf(s.Filter)),
		"What is judged is how even the level is. A long delay can do that and still sound late; of two settings about as good take the shorter delay.",
		"These places and settings are predicted. Measure at the seat, and trim gain and delay by ear and microphone; a prediction of walls that are not known is a start.",
	}
	return lines
}

// kindOf is the family of a filter.
func kindOf(f model.Filter) string {
	if f == model.LinkwitzRiley4 {
		return "Linkwitz-Riley kind"
	}
	return "Butterworth kind"
}

// lowLimits names those that are given.
func (m *SubReport) lowLimits() string {
	var parts []string
	if v := m.Project.Speakers.LowLimit; v > 0 {
		parts = append(parts, nominal(v)+" for the speakers")
	}
	if v := m.Project.Subwoofers.LowLimit; v > 0 {
		parts = append(parts, nominal(v)+" for the subwoofers")
	}
	if len(parts) == 0 {
		return " (none is given)"
	}
	return " (−6 dB, second order: " + strings.Join(parts, ", ") + ")"
}

// subCautions are those that concern setting up subwoofers.
func subCautions() []string {
	return []string{
		"Switch everything off before cables are plugged. Begin every test sound quietly: a low note is hardly heard before it hurts a driver or an ear.",
		"Lift with two people from about 15 kg; lift from the knees, look for fingers at the floor. Stand boxes on feet that do not slide, nothing on top that can fall.",
		"Leave the gap behind the box, and heaters, sockets, vents and ways out free.",
		"Bass goes through walls. Neighbours and house rules decide how loud and how late.",
	}
}

// SubText returns a search for subwoofers as text for a terminal: what each further one
// brings, where it stops paying, and how to set up what pays.
func SubText(m SubReport) string {
	if err := m.check(); err != nil {
		return sentence(err.Error()) + "\n"
	}
	var b strings.Builder
	n, plans := m.Enough(), m.Result.Plans
	b.WriteString(roomLine(m.Project, m.Style) + "\n\n")
	b.WriteString(wrap(strings.TrimSpace(fmt.Sprintf("%s %s", m.headline(), m.stop())), columns, "") + "\n")
	b.WriteString(wrap(fmt.Sprintf("The speakers and the main seat are %s; %d places for subwoofers %s were looked at.",
		m.mains(), m.Result.Places, m.Project.Subwoofers.Where), columns, "") + "\n")
	compare := m.compare()
	b.WriteString("\n" + wrap(compare.Caption, columns, "") + "\n" + compare.text())
	if walls := m.wallsTable(); len(walls.Rows) > 0 {
		b.WriteString("\n" + wrap(walls.Caption, columns, "") + "\n" + walls.text())
		if firm := m.firm(); firm != "" {
			b.WriteString(wrap(firm, columns, "") + "\n")
		}
	}
	if n > 0 {
		writeList(&b, "Set up "+counted(n), m.instructions(&plans[n]))
		writeList(&b, "Take care", subCautions())
	}
	for i := 1; i < len(plans); i++ {
		if i != n {
			t := m.settings(&plans[i], false)
			b.WriteString("\n" + t.Caption + "\n" + t.text())
		}
	}
	if m.Result.Now != nil {
		t := m.settings(m.Result.Now, true)
		b.WriteString("\n" + t.Caption + "\n" + t.text())
	}
	writeList(&b, "What this rests on", m.method())
	b.WriteString("\n" + wrap(trust(m.Result.Engine, m.Result.Why), columns, "") + "\n")
	writeWarnings(&b, uniqueWarnings(m.Project.Warnings, m.Result.Warnings, m.Warnings))
	return b.String()
}
