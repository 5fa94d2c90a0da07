package model

import "fmt"

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
