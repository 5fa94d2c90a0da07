package recording

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure/sweep"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Checklist is what is needed to say how to measure.
type Checklist struct {
	Sweep   sweep.Sweep
	File    string         // of the sweep
	Room    string         // the room file's name; "" for none
	Project *model.Project // nil without a room file
	Style   unit.Style
}

// ChecklistText returns the steps of a measurement, in their order, with the cautions.
func ChecklistText(c Checklist) string {
	var b strings.Builder
	s := c.Sweep
	fmt.Fprintf(&b, "%s\n", text.Wrap(fmt.Sprintf("%s: %s, each from %g to %g Hz in %g s; %.0f s in all, with short chirps before and after that mark the time.",
		text.Printable(c.File), partsText(s.Parts), s.From, s.To, s.Length, s.Duration()), text.Columns, ""))
	b.WriteString("\nCheck before you play\n")
	for i, step := range append(c.set(), c.record()...) {
		fmt.Fprintf(&b, "%2d. %s\n", i+1, text.Wrap(step, text.Columns-4, "    "))
	}
	text.WriteList(&b, "Cautions", text.CautionLines(text.CautionOf(c.Style, "Hearing and loudspeakers", "Electricity")))
	return b.String()
}

// partsText says what plays one after the other.
func partsText(parts []model.Source) string {
	var list []string
	for _, p := range parts {
		list = append(list, sourceText(p))
	}
	return strings.Join(list, ", then ")
}

func sourceText(p model.Source) string {
	switch p {
	case model.LeftSpeaker:
		return "the left speaker"
	case model.RightSpeaker:
		return "the right speaker"
	case model.SubSpeaker:
		return "the subwoofers"
	}
	return "both speakers"
}

// set is how to set up the room, the microphone and the recorder.
func (c Checklist) set() []string {
	return append(c.Setup(),
		"Switch off automatic level, noise reduction and voice enhancement in the recorder.",
		"Write down what stands in the room: the treatments, the date, the temperature.",
	)
}

// Setup returns the steps that set up the room and the microphone, whatever records.
func (c Checklist) Setup() []string {
	steps := []string{
		"Put doors, windows and furniture as they are when you listen, and leave them so for every measurement.",
		"Switch off fans, heating, refrigerators and phones, and wait for a quiet street: low noise spoils bass first.",
		"Put the microphone where the middle of your head is when you listen, on a stand, with nobody in the seat." + c.place() +
			" Use a tape: 10 cm off changes the response by as much as many treatments do.",
		"Switch off equalisers, loudness, room correction and every effect, in the player and in the amplifier.",
	}
	if slices.Contains(c.Sweep.Parts, model.SubSpeaker) {
		steps = append(steps, "For the subwoofers alone, disconnect the pair. The chirps need a speaker that plays up to 4 kHz: if the subwoofers do not, measure them with the pair connected.")
	}
	return steps
}

// place says where the seats of the room file are.
func (c Checklist) place() string {
	if c.Project == nil {
		return " Note its distance from the front wall, from the left wall and from the floor."
	}
	var b strings.Builder
	for _, seat := range c.Project.Seats {
		if seat.Placed {
			fmt.Fprintf(&b, " For %s: %s from the front wall, %s from the left wall, %s above the floor.",
				text.OrElse(text.Printable(seat.Name), "the seat"), c.Style.Tape(seat.At.X), c.Style.Tape(seat.At.Y), c.Style.Tape(seat.At.Z))
		}
	}
	return b.String()
}

// record is how to play and record.
func (c Checklist) record() []string {
	room := text.OrElse(c.Room, "ROOM.yaml")
	steps := []string{
		"Start quietly: play the sweep with the volume down, and raise it until it is well above the noise. About 75 to 80 dB at the seat is enough. Turn down at once if a cone rattles or thuds.",
		"Set the recording level so that the loudest moment stays between 20 and 6 dB below full scale. Then change neither volume nor recording level until the last measurement is done, or before and after cannot be compared.",
	}
	if len(c.Sweep.Parts) > 1 {
		steps = append(steps, "Check by ear that only one speaker plays at a time, in this order: "+partsText(c.Sweep.Parts)+".")
	}
	return append(steps,
		"Start the recorder first, then play. Leave the room or sit still out of the way. Stop recording after the last chirp.",
		"Save the recording as WAV, 24 bits, 44.1 or 48 kHz, and run: "+fmt.Sprintf("evenbass measure %s recording.wav --sweep %s -o before", text.Printable(room), text.Printable(c.File)),
	)
}
