package observation

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/calibration"
	"evenbass/model/measure/comparison"
	"evenbass/model/measure/diagnosis"
	"evenbass/model/response"
	"evenbass/optimize/engines"
)

// Present is what was measured at the main seat of a room as it stands, with the prediction for the same
// place and speakers. Improvements start from here.
type Present struct {
	Speakers   []PresentSpeaker  // left, right, both: those that were measured
	Faults     []diagnosis.Fault // the most prominent first
	Next       diagnosis.Next
	Gains      []calibration.Gain // what one more measurement would teach, the most telling first; nil if that is not known
	Costly     bool               // the room needs the wave solver, with which Gains would take the runs of a calibration
	Prediction *Prediction        // the prediction; nil if the room file does not say where the speakers stand
}

// PresentSpeaker is one speaker as it was measured.
type PresentSpeaker struct {
	Speaker    model.Source
	Measured   *analysis.Analysis
	Comparison *comparison.Comparison // of the prediction, then the measurement; nil without a prediction
}

// Invented reports whether nobody made any of the measurements.
func (n *Present) Invented() bool {
	return !slices.ContainsFunc(n.Speakers, func(s PresentSpeaker) bool { return !s.Invented() })
}

// Invented reports whether nobody made the measurement.
func (s PresentSpeaker) Invented() bool { return s.Measured.Measurement.Invented() }

// NewPresent picks the measurements that show the room as it stands: made at the main seat, of left, right or
// both, with the treatments of the room file or in a state that is not recorded. The last measurement of a
// speaker counts. It returns nil if there is none; the warnings say what could not be used.
func NewPresent(ctx context.Context, p *model.Project, list []*measure.Measurement, progress model.Progress) (*Present, []model.Warning, error) {
	out := &Present{}
	var warnings []model.Warning
	var all []*analysis.Analysis
	chosen := presentOf(p, list)
	if len(chosen) == 0 && len(list) > 0 {
		warnings = append(warnings, model.Remark("no measurement of the room file was made at the main seat with the treatments that the room has now"))
	}
	for _, m := range chosen {
		a, err := analysis.New(m, p.Goal)
		if err != nil {
			warnings = append(warnings, model.MeasurementUnused{Name: m.Name, Why: err.Error()})
			continue
		}
		all = append(all, a)
		out.Speakers = append(out.Speakers, PresentSpeaker{Speaker: m.Speaker, Measured: a})
	}
	if len(all) == 0 {
		return nil, warnings, nil
	}
	out.Faults = diagnosis.Find(all)
	out.Next = diagnosis.Best(all, out.Faults)
	out.Costly = engines.Irregular(&p.Room) != ""
	var err error
	if out.Gains, err = teach(ctx, p, alike(chosen[0], list)); err != nil {
		return nil, warnings, fmt.Errorf("the next measurement: %w", err)
	}
	err = out.predict(ctx, p, progress)
	if errors.Is(err, ErrNotPlaced) {
		return out, append(warnings, model.Remark("the measurements have no prediction to compare with: "+err.Error())), nil
	}
	return out, warnings, err
}

// alike returns the measurements that were made in the state of one of them.
func alike(one *measure.Measurement, list []*measure.Measurement) []*measure.Measurement {
	var out []*measure.Measurement
	for _, m := range list {
		if m.StateKnown == one.StateKnown && sameNames(m.State, one.State) {
			out = append(out, m)
		}
	}
	return out
}

// presentOf returns the last usable measurement of each speaker, one in a known state before any
// other.
func presentOf(p *model.Project, list []*measure.Measurement) []*measure.Measurement {
	if len(p.Seats) == 0 {
		return nil
	}
	var standing []string
	for _, t := range p.Room.Treatments {
		if !t.Furnished() {
			standing = append(standing, t.Name)
		}
	}
	last := map[model.Source]*measure.Measurement{}
	for _, m := range list {
		before := last[m.Speaker]
		switch {
		case m.Seat != p.Seats[0].Name, m.StateKnown && !sameNames(m.State, standing):
		case before != nil && before.StateKnown && !m.StateKnown:
		default:
			last[m.Speaker] = m
		}
	}
	var out []*measure.Measurement
	for _, s := range []model.Source{model.LeftSpeaker, model.RightSpeaker, model.BothSpeakers} {
		if m := last[s]; m != nil {
			out = append(out, m)
		}
	}
	return out
}

// predict adds the predictions. Microphones at one place share one.
func (n *Present) predict(ctx context.Context, p *model.Project, progress model.Progress) error {
	by := map[r3.Vec]*Prediction{}
	for i := range n.Speakers {
		one := &n.Speakers[i]
		m := one.Measured.Measurement
		if !m.Placed {
			continue
		}
		s := by[m.At]
		if s == nil {
			var err error
			if s, err = Predict(ctx, p, m.At, nil, false, material.Typical, progress); err != nil {
				return err
			}
			by[m.At] = s
			n.Prediction = s
		}
		var err error
		if one.Comparison, err = comparison.New(s.analysis(p, m.Speaker), one.Measured, response.Resolution{}); err != nil {
			return fmt.Errorf("comparing %s with the prediction: %w", m.Name, err)
		}
	}
	return nil
}
