package diagnosis

import (
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/resonance"
	"evenbass/model/response"
)

// Cause is what a dip or a peak comes from.
type Cause int

// The causes.
const (
	Open         Cause = iota // the measurements do not tell
	Mode                      // a mode rings there
	SpeakerPlace              // it is there with this speaker and not with the other
	SeatPlace                 // it is there with both: it belongs to the seat
	RollOff                   // the lower end of the speaker, or of what was measured
)

// Fault is a dip or a peak and what it comes from.
type Fault struct {
	Feature response.Feature
	Of      *analysis.Analysis // of whose curve it is
	Speaker model.Source
	Cause   Cause
	Mode    *resonance.Mode // of cause Mode
	Other   model.Level     // the other speaker's level there, dB re its own mean; NaN if there is none
}

// listed is how many faults of each speaker are looked at.
const listed = 5

// out is how far from the band's mean a dip or a peak must be to be a fault, dB. Common practice,
// no source.
const out = 4

// apart is by how much two speakers' levels must differ for a fault to belong to one of them, dB.
// Common practice, no source: half of a fault that is listed at all.
const apart = 6

// Find returns the faults of all analyses, the most prominent first. The other speaker counts only where its
// microphone stood at the same place.
func Find(list []*analysis.Analysis) []Fault {
	var faults []Fault
	for i, a := range list {
		found := 0
		for _, f := range a.Features {
			if far := math.Abs(float64(f.Level)); far < out || f.Peak != (f.Level > 0) || found == listed {
				continue
			}
			found++
			faults = append(faults, judge(f, a, other(list, i)))
		}
	}
	slices.SortStableFunc(faults, func(a, b Fault) int {
		return int(math.Copysign(1, float64(b.Feature.Prominence-a.Feature.Prominence)))
	})
	return faults
}

// other returns the analysis of the other speaker of a pair at the same place; nil if it was not measured.
func other(list []*analysis.Analysis, i int) *analysis.Analysis {
	opposite := map[model.Source]model.Source{model.LeftSpeaker: model.RightSpeaker, model.RightSpeaker: model.LeftSpeaker}
	one := list[i].Measurement
	wanted, ok := opposite[one.Speaker]
	for _, a := range list {
		if m := a.Measurement; ok && m.Speaker == wanted && m.Seat == one.Seat && m.At == one.At {
			return a
		}
	}
	return nil
}

// judge says what a feature comes from.
func judge(f response.Feature, a, other *analysis.Analysis) Fault {
	fault := Fault{Feature: f, Of: a, Speaker: a.Measurement.Speaker, Other: model.Level(math.NaN())}
	if other != nil && f.Frequency >= other.Grid[0] && f.Frequency <= other.Grid[len(other.Grid)-1] {
		fault.Other = other.At(other.Curve, f.Frequency) - other.Figures.Mean
	}
	switch m := ringing(f, a.Modes); {
	case f.Peak && m != nil:
		fault.Cause, fault.Mode = Mode, m
	case !f.Peak && f.Frequency < a.Goal.From*math.Exp2(1.0/12):
		fault.Cause = RollOff
	case math.IsNaN(float64(fault.Other)):
	case math.Abs(float64(fault.Other-f.Level)) >= apart:
		fault.Cause = SpeakerPlace
	default:
		fault.Cause = SeatPlace
	}
	return fault
}

// sure is the least confidence of a mode that counts as evidence.
const sure = 0.7

// ringing returns the mode nearest to a peak, within half its bandwidth or 1.5 % of the frequency,
// whichever is more, if it is sure and not much softer than the loudest.
func ringing(f response.Feature, modes []resonance.Mode) *resonance.Mode {
	var best *resonance.Mode
	for i := range modes {
		m := &modes[i]
		distance := math.Abs(m.Frequency - f.Frequency)
		if m.Confidence < sure || m.Loudest() < -25 || distance > max(m.Bandwidth()/2, 0.015*f.Frequency) {
			continue
		}
		if best == nil || distance < math.Abs(best.Frequency-f.Frequency) {
			best = m
		}
	}
	return best
}
