package model

import (
	"fmt"
	"slices"
	"strings"
)

// Measured is a measurement of the room that its owner keeps in a file.
type Measured struct {
	Name       string
	File       string   // path, from the room file's folder
	Seat       string   // the seat's name; "" is the main seat
	Speaker    Source   // what played
	Date       string   // as the owner wrote it
	State      []string // names of the treatments that stood; see StateKnown
	StateKnown bool     // an empty State is a bare room
	Correction string   // path of the microphone's correction; "" is none
	Smoothing  int      // octave fraction of a table, Unsmoothed, or 0 for not said
}

// Unsmoothed is the smoothing of a table that has none.
const Unsmoothed = -1

// Title returns the measurement's name, or its file.
func (m *Measured) Title() string {
	if m.Name != "" {
		return m.Name
	}
	return m.File
}

// SeatOf returns the seat of a measurement.
func (p *Project) SeatOf(m *Measured) (Seat, bool) {
	for i, s := range p.Seats {
		if m.Seat == s.Name || m.Seat == "" && i == 0 {
			return s, true
		}
	}
	return Seat{}, false
}

// measurements checks what the file says about measurements, not what they hold.
func (v *validator) measurements() {
	known := v.treatmentNames()
	for i := range v.p.Measurements {
		m, path := &v.p.Measurements[i], fmt.Sprintf("measurements[%d]", i)
		if m.File == "" {
			v.fail(path+".file", "must name a file")
		}
		for j := range i {
			if other := &v.p.Measurements[j]; other.Title() == m.Title() {
				v.fail(path, "is called %q like an earlier one; give it a name of its own", m.Title())
				break
			}
		}
		if _, ok := v.p.SeatOf(m); !ok {
			v.fail(path+".seat", "%q is no seat; the seats are %s", m.Seat, quotedList(v.seatNames()))
		}
		if m.Speaker == UnknownSource {
			v.fail(path+".speaker", "must be left, right, both or sub")
		}
		for j, s := range m.State {
			if !slices.Contains(known, s) {
				v.fail(fmt.Sprintf("%s.state[%d]", path, j), "%q is no treatment; the treatments are %s", s, quotedList(known))
			}
		}
	}
}

func (v *validator) seatNames() []string {
	var names []string
	for _, s := range v.p.Seats {
		names = append(names, s.Name)
	}
	return names
}

// treatmentNames are those of the room, without furniture, and of what its options would add.
func (v *validator) treatmentNames() []string {
	var names []string
	for _, t := range v.p.Room.Treatments {
		if !t.Furnished() {
			names = append(names, t.Name)
		}
	}
	for _, o := range v.p.Options {
		for _, t := range o.Add {
			names = append(names, t.Name)
		}
	}
	return slices.DeleteFunc(names, func(s string) bool { return s == "" })
}

// quotedList lists names for a message.
func quotedList(names []string) string {
	list := make([]string, 0, len(names))
	for _, n := range names {
		list = append(list, fmt.Sprintf("%q", n))
	}
	if len(list) == 0 {
		return "not named"
	}
	return strings.Join(list, ", ")
}

// Source says what played in a measurement.
type Source int

// The sources. The zero value is not known.
const (
	UnknownSource Source = iota
	LeftSpeaker
	RightSpeaker
	BothSpeakers // with one signal
	SubSpeaker   // the subwoofers, without the pair
)

// Sources lists the sources that a file can name.
var Sources = []Source{LeftSpeaker, RightSpeaker, BothSpeakers, SubSpeaker}

// String returns the word of the room file: "left", "right", "both", "sub"; "unknown" for
// the zero value.
func (s Source) String() string {
	if s < UnknownSource || s > SubSpeaker {
		return fmt.Sprintf("Source(%d)", int(s))
	}
	return [...]string{"unknown", "left", "right", "both", "sub"}[s]
}
