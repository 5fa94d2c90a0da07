package diagnosis

import (
	"evenbass/model"
	"evenbass/model/measure/analysis"
)

// Step is what to do next to learn more.
type Step int

// The steps.
const (
	NothingOpen    Step = iota // every fault has a cause
	MeasureImpulse             // levels alone tell nothing of modes and decay
	MeasureOther               // the other speaker, the microphone where it is
	MoveSpeaker                // move this speaker by [Shift] and measure again: the fault should move
	MoveSeat                   // move the microphone by [Shift] and measure again
	ShortenDecay               // the worst fault is a mode: treat it, then measure again
	CheckSpeaker               // measure close to the woofer: is the roll-off the speaker's own?
)

// Shift is how far to move, m: enough to shift a reflection's dip at 100 Hz by half an octave where
// it comes over a metre's detour.
const Shift = 0.2

// Next is the measurement or move from which most can be learned.
type Next struct {
	Step  Step
	Fault Fault // that it is about; zero if it is about none
}

// unpaired reports whether all were measured with one speaker of the pair and none with the other at its place.
func unpaired(list []*analysis.Analysis) bool {
	for i, a := range list {
		if s := a.Measurement.Speaker; s == model.BothSpeakers || s == model.SubSpeaker || other(list, i) != nil {
			return false
		}
	}
	return len(list) > 0
}

// Best returns what to do next, given the faults of [Find].
func Best(list []*analysis.Analysis, faults []Fault) Next {
	for _, a := range list {
		if a.Measurement.Impulse == nil {
			return Next{Step: MeasureImpulse}
		}
	}
	if unpaired(list) {
		return Next{Step: MeasureOther}
	}
	for _, f := range faults {
		switch f.Cause {
		case SpeakerPlace:
			return Next{MoveSpeaker, f}
		case SeatPlace:
			return Next{MoveSeat, f}
		case Mode:
			return Next{ShortenDecay, f}
		case RollOff:
			return Next{CheckSpeaker, f}
		case Open:
			return Next{MoveSeat, f}
		}
	}
	return Next{}
}
