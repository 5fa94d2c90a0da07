package room

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/optimize/score"
	"evenbass/report/recording"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a room file as it was read, for [Text].
type Report struct {
	Project    *model.Project
	Engine     model.EngineKind // used for this room unless another is asked for
	Why        string           // one clause
	Walls      []Wall
	Modes      []Mode  // ascending; the first ten are shown
	Transition float64 // Hz; single modes dominate below it
	Warnings   []model.Warning

	Measurements []*measure.Measurement // that the room file names and that could be read
}

// measurementLines say what each measurement is.
func (u *Report) measurementLines() []string {
	var lines []string
	for _, m := range u.Measurements {
		state := "state not known"
		switch {
		case m.StateKnown && len(m.State) == 0:
			state = "bare room"
		case m.StateKnown:
			state = "with " + strings.Join(m.State, ", ")
		}
		lines = append(lines, text.Printable(fmt.Sprintf("%s: %v at %s, %s; %s", m.Name, m.Speaker, text.OrElse(m.Seat, "the seat"), state, recording.Held(m))))
	}
	return lines
}

// Text returns a room file as it was understood, as text for a terminal: sizes,
// walls with their sources, the first modes, warnings.
func Text(u Report, s unit.Style) string {
	var b strings.Builder
	p := u.Project
	b.WriteString(text.RoomLine(p, s) + "\n")
	fmt.Fprintf(&b, "floor %s; goal %v\n", s.Area(p.Room.Area(model.Floor)), p.Goal)
	if u.Transition > 0 {
		b.WriteString(text.Wrap(fmt.Sprintf("transition frequency about %s: single modes dominate below it", unit.Frequency(u.Transition)), text.Columns, "  ") + "\n")
	}
	b.WriteString(text.Wrap(fmt.Sprintf("the %s engine predicts this room, because %s", u.Engine, u.Why), text.Columns, "  ") + "\n")
	writeContents(&b, p, s)
	walls := WallsTable(u.Walls, s)
	b.WriteString("\n" + walls.Caption + "\n" + walls.Text())
	for _, line := range Sources(u.Walls) {
		b.WriteString("- " + text.Wrap(line, text.Columns-2, "  ") + "\n")
	}
	first := modesTable(u.Modes[:min(10, len(u.Modes))], 1e9)
	for i := range first.Rows { // a seat is not part of the room
		first.Rows[i] = first.Rows[i][:4]
	}
	first.Head = first.Head[:4]
	heading := "First room modes"
	if u.Engine == model.WaveEngine {
		heading += " of the plain box around the room, with its absorption spread over the walls"
	}
	b.WriteString("\n" + heading + "\n" + first.Text())
	text.WriteList(&b, "Measurements", u.measurementLines())
	text.WriteList(&b, text.BreachesHeading, text.PresentBreaches(p, s))
	text.WriteWarnings(&b, text.UniqueWarnings(p.Warnings, u.Warnings), s)
	return b.String()
}

// writeContents lists what stands in the room and what may be placed.
func writeContents(b *strings.Builder, p *model.Project, s unit.Style) {
	b.WriteString("\n")
	if now, ok := p.Now(); ok {
		t := MarksTable(&score.Candidate{Layout: now}, p, s)
		t.Head[0] = "now"
		b.WriteString(t.Text())
	} else {
		b.WriteString(placeless(p) + "\n")
	}
	if r := &p.Room; len(r.Openings)+len(r.Blocks)+len(p.KeepClear)+len(r.Treatments) > 0 {
		b.WriteString("\n")
	}
	for _, o := range p.Room.Openings {
		fmt.Fprintf(b, "%s\n", text.Wrap(openingText(&p.Room, &o, s), text.Columns, "  "))
	}
	for _, block := range p.Room.Blocks {
		fmt.Fprintf(b, "%s\n", text.Wrap("solid: "+blockText(block, s), text.Columns, "  "))
	}
	for _, block := range p.KeepClear {
		fmt.Fprintf(b, "%s\n", text.Wrap("keep clear: "+blockText(block, s), text.Columns, "  "))
	}
	for _, t := range p.Room.Treatments {
		words := fmt.Sprintf("treatment: %s, %s, %s deep", text.Printable(t.Name), t.Where(), s.Tape(p.Room.Depth(&t)))
		if t.Form == model.OnWall {
			words += ", " + s.Area(t.Patch.Area())
		}
		fmt.Fprintf(b, "%s\n", text.Wrap(words, text.Columns, "  "))
	}
}

// openingText says what an opening is, where and how large. For a wall inside the bounding
// rectangle it also says where that wall stands.
func openingText(r *model.Room, o *model.Opening, s unit.Style) string {
	words := text.Printable(text.OpeningName(*o) + " in the " + r.OpeningWall(o))
	at, ok := r.Stretch(o)
	if _, border := r.BorderPatch(o); ok && !border {
		words += fmt.Sprintf(", %s from the front wall, %s from the left wall", tapeSpan(s, at.From.X, at.To.X), tapeSpan(s, at.From.Y, at.To.Y))
	}
	return fmt.Sprintf("%s, %s by %s", words, s.Tape(o.Patch.Width), s.Tape(o.Patch.Height))
}

// tapeSpan writes two distances as one if they are: "380 cm", "215 cm to 295 cm".
func tapeSpan(s unit.Style, from, to float64) string {
	a, b := s.Tape(from), s.Tape(to)
	if a == b {
		return a
	}
	return a + " to " + b
}

// placeless says what has no place yet.
func placeless(p *model.Project) string {
	switch {
	case p.Speakers.Placed:
		return "the seat has no place yet"
	case len(p.Seats) > 0 && p.Seats[0].Placed:
		return "the speakers have no place yet"
	}
	return "speakers and seat have no place yet"
}

func blockText(k model.Block, s unit.Style) string {
	return fmt.Sprintf("%s, %s by %s by %s high", text.Printable(k.Name),
		s.Tape(k.Max.X-k.Min.X), s.Tape(k.Max.Y-k.Min.Y), s.Tape(k.Max.Z-k.Min.Z))
}
