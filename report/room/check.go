package room

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
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

	Full bool // the text holds everything, not only what comes first
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

// Text returns a room file as it was understood, as text for a terminal: sizes, places, walls, broken
// rules and what to do next. With Full set it also holds the range of each absorption with its source, the first modes and
// all caveats.
func Text(u Report, s unit.Style) string {
	var b strings.Builder
	p := u.Project
	b.WriteString(text.RoomLine(p, s) + "\n")
	fmt.Fprintf(&b, "floor %s; goal %v\n", s.Area(p.Room.Area(model.Floor)), p.Goal)
	if u.Transition > 0 {
		b.WriteString(text.Wrap(fmt.Sprintf("transition frequency about %s: single modes dominate below it", unit.Frequency(u.Transition)), text.Columns, "  ") + "\n")
	}
	b.WriteString(text.Wrap(fmt.Sprintf("the %s engine predicts this room, because %s", u.Engine, u.Why), text.Columns, "  ") + "\n")
	u.writePlaces(&b, s)
	u.writeContents(&b, s)
	warnings := slices.DeleteFunc(text.UniqueWarnings(p.Warnings, u.Warnings), func(w model.Warning) bool {
		_, said := w.(model.FurnitureInert)
		return said
	})
	if u.Full {
		u.writeWalls(&b, s)
		u.writeModes(&b)
		text.WriteList(&b, "Furniture", FurnitureSources(p))
	} else {
		text.WriteTable(&b, typicalTable(u.Walls))
	}
	text.WriteList(&b, "Measurements", u.measurementLines())
	text.WriteList(&b, text.BreachesHeading, text.PresentBreaches(p, s))
	if u.Full {
		text.WriteWarnings(&b, warnings, s)
		b.WriteString("\n")
	} else {
		pressing := text.Pressing(warnings)
		text.WriteWarnings(&b, pressing, s)
		b.WriteString("\n" + text.Wrap(text.Sentence(text.Count(len(warnings)-len(pressing), "more caveat"))+", ranges and sources of the absorption, and the room modes: --full", text.Columns, "") + "\n")
	}
	b.WriteString("What to do, step by step: evenbass plan\n")
	return b.String()
}

// writeWalls writes what is assumed for each surface, with ranges and sources.
func (u *Report) writeWalls(b *strings.Builder, s unit.Style) {
	text.WriteTable(b, WallsTable(u.Walls, s))
	for _, line := range Sources(u.Walls) {
		b.WriteString("- " + text.Wrap(line, text.Columns-2, "  ") + "\n")
	}
}

// writeModes writes the first modes of the room.
func (u *Report) writeModes(b *strings.Builder) {
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
}
