package measure

import "math/bits"

// Doubt is a set of things that a measurement cannot tell. The zero value is none.
type Doubt uint16

// The doubts.
const (
	SmoothingUnknown   Doubt = 1 << iota // the levels may have been smoothed
	GainUnknown                          // the reference is arbitrary: levels of two measurements compare only after they are aligned
	PhaseUnknown                         // levels alone
	TimeUnknown                          // the delay of the sound path is not in the phase
	NoiseUnknown                         // how far the noise is below
	PlaceUnknown                         // neither seat nor place of the microphone
	SpeakerUnknown                       // what played
	StateUnknown                         // which treatments stood
	TemperatureUnknown                   // of the air
	CorrectionUnknown                    // whether the microphone's own response was taken out

	allDoubts = 1<<iota - 1
)

// stored are the doubts that do not follow from the data.
const stored = SmoothingUnknown | GainUnknown | CorrectionUnknown

// doubtWords are what the doubts are called: what is not known.
var doubtWords = [...]string{
	"smoothing", "gain", "phase", "time reference", "noise", "place", "speaker", "state", "temperature", "microphone correction",
}

// Doubts returns everything that the measurement cannot tell: what was noted when it was
// read, and what follows from the data that it has.
func (m *Measurement) Doubts() Doubt {
	d := m.Unsure & allDoubts
	if m.Impulse != nil {
		d &^= SmoothingUnknown
	}
	for _, c := range []struct {
		doubt Doubt
		holds bool
	}{
		{PhaseUnknown, !m.HasPhase()},
		{TimeUnknown, !m.HasTime()},
		{NoiseUnknown, m.Noise == nil},
		{PlaceUnknown, m.Seat == "" && !m.Placed},
		{SpeakerUnknown, m.Speaker == 0},
		{StateUnknown, !m.StateKnown},
		{TemperatureUnknown, m.Temperature == 0},
	} {
		if c.holds {
			d |= c.doubt
		}
	}
	return d
}

// List returns the doubts one by one.
func (d Doubt) List() []Doubt {
	var list []Doubt
	for d &= allDoubts; d != 0; d &= d - 1 {
		list = append(list, d&-d)
	}
	return list
}

// String names a single doubt: what is not known, "time reference". A set is a list with
// commas; none is "".
func (d Doubt) String() string {
	var s string
	for i, one := range d.List() {
		if i > 0 {
			s += ", "
		}
		s += doubtWords[bits.TrailingZeros16(uint16(one))]
	}
	return s
}

// ParseDoubt returns the doubt of a name.
func ParseDoubt(name string) (d Doubt, ok bool) {
	for i, w := range doubtWords {
		if w == name {
			return 1 << i, true
		}
	}
	return 0, false
}
