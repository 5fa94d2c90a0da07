package present

import (
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/diagnosis"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// FaultLines says what the worst dips and peaks come from. Each begins with the name of what was measured, and
// words that go with a fault, if there are any, follow.
func FaultLines(faults []diagnosis.Fault, name func(*analysis.Analysis) string, with func(diagnosis.Fault) string) []string {
	var lines []string
	for i, f := range faults {
		if len(lines) == mostFaults || slices.ContainsFunc(faults[:i], func(told diagnosis.Fault) bool { return sameFault(told, f) }) {
			continue
		}
		line := faultLine(f, name(f.Of))
		if with != nil {
			line += with(f)
		}
		lines = append(lines, line)
	}
	return lines
}

// mostFaults is how many faults are told.
const mostFaults = 5

// SpeakerName is what a sentence calls a measurement where every speaker was measured once.
func SpeakerName(a *analysis.Analysis) string { return text.Sentence(a.Measurement.Speaker.String()) }

// sameFault reports whether two curves show one fault: it is the seat's or a mode's, and lies
// within 3 % in frequency.
func sameFault(a, b diagnosis.Fault) bool {
	shared := a.Cause == b.Cause && (a.Cause == diagnosis.SeatPlace || a.Cause == diagnosis.Mode || a.Cause == diagnosis.RollOff)
	return shared && a.Feature.Peak == b.Feature.Peak && math.Abs(a.Feature.Frequency/b.Feature.Frequency-1) < 0.03
}

// faultLine says what a fault is and what it comes from.
func faultLine(f diagnosis.Fault, name string) string {
	kind := "dip"
	if f.Feature.Peak {
		kind = "peak"
	}
	words := fmt.Sprintf("%s, %s at %s (%s): ", name, kind, unit.Frequency(f.Feature.Frequency), unit.Decibels(f.Feature.Level))
	switch f.Cause {
	case diagnosis.Mode:
		return words + fmt.Sprintf("a mode at %s, which takes %s to fall by 60 dB.", unit.Frequency(f.Mode.Frequency), unit.Seconds(f.Mode.DecayTime()))
	case diagnosis.SpeakerPlace:
		return words + fmt.Sprintf("it belongs to the place of this speaker. With the other one the level is %s there.", unit.Decibels(f.Other))
	case diagnosis.SeatPlace:
		return words + fmt.Sprintf("it belongs to the seat. With the other speaker it is there too, at %s.", unit.Decibels(f.Other))
	case diagnosis.RollOff:
		return words + "the lower end of the speaker, or of what was measured."
	}
	switch {
	case f.Speaker == model.BothSpeakers:
		return words + "cause unknown; measure left and right alone to learn more."
	case math.IsNaN(float64(f.Other)):
		return words + "cause unknown; the other speaker was not measured."
	}
	return words + "cause unknown."
}

// NextLine says what to do next.
func NextLine(n diagnosis.Next, style unit.Style) string {
	shift, at := style.Tape(diagnosis.Shift), unit.Frequency(n.Fault.Feature.Frequency)
	switch n.Step {
	case diagnosis.MeasureImpulse:
		return "Next: measure with a sweep. Levels alone say nothing about modes and decay."
	case diagnosis.MeasureOther:
		return "Next: measure the other speaker, with the microphone in the same place. What both share belongs to the seat."
	case diagnosis.MoveSpeaker:
		return fmt.Sprintf("Next: move the %s speaker by %s, away from the wall it is nearest to, and measure again. The dip or peak at %s should move or shrink.", n.Fault.Speaker, shift, at)
	case diagnosis.MoveSeat:
		return fmt.Sprintf("Next: move the microphone %s forward and measure again. If the dip or peak at %s moves, it is a reflection off what is behind or above; if it stays, it is a mode.", shift, at)
	case diagnosis.ShortenDecay:
		return fmt.Sprintf("Next: the worst fault is a mode at %s. Absorb where its pressure is greatest, then measure again.", unit.Frequency(n.Fault.Mode.Frequency))
	case diagnosis.CheckSpeaker:
		return "Next: measure once more, 10 cm in front of the woofer. What falls there too is the speaker, not the room."
	}
	return "No dip or peak of 6 dB or more stands out. Nothing to chase at this seat."
}
