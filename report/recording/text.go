package recording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/sweep"
	"evenbass/model/response"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is what was measured, for [Text].
type Report struct {
	Recording    string        // the file's name
	Result       *sweep.Result // nil if the file was no recording of a sweep
	Measurements []*measure.Measurement
	Cards        []response.Card      // of each measurement
	Analyses     []*analysis.Analysis // of each measurement; nil leaves decays and modes out
	Files        []string             // in which each was saved; nil for none
	NamedIn      string               // the room file that names them already; "" for none
	Goal         model.Goal           // asked for
	Warnings     []model.Warning
	Invented     bool               // nobody measured it
	Sources      []string           // the file of each measurement; nil if all are of one recording
	Positions    *measure.Positions // of which the last measurement is the average; nil for none
	Style        unit.Style
}

// Text returns how good a recording is, the figures of what was measured, what it cannot tell, and
// what to write into the room file.
func Text(r Report) string {
	var b strings.Builder
	switch {
	case r.Invented:
		b.WriteString(text.Wrap(text.Sentence(r.Measurements[0].Notes[0])+".", text.Columns, "") + "\n")
	case r.Result != nil:
		r.writeQuality(&b)
	default:
		for i, file := range r.Sources {
			fmt.Fprintf(&b, "%s: %s\n", text.Printable(file), Held(r.Measurements[i]))
		}
	}
	r.writeCards(&b)
	if r.Positions != nil {
		text.WriteList(&b, "Positions", []string{fmt.Sprintf("The average is by power. Its deep dips are filled by whichever position has none; least and greatest level lie ±%.1f dB apart on average. --table writes them.", float64(r.Positions.Apart()))})
	}
	text.WriteList(&b, "What this measurement cannot tell", Doubts(r.Measurements...))
	warnings := r.Warnings
	if r.Result != nil {
		warnings = append(warnings[:len(warnings):len(warnings)], r.Result.Warnings...)
	}
	text.WriteWarnings(&b, warnings, r.Style)
	if r.Result == nil && !r.Invented {
		text.WriteList(&b, "Notes in the files", Notes(r.Measurements...))
	}
	r.writeEntries(&b)
	return b.String()
}

// Held says what a file that was no recording held.
func Held(m *measure.Measurement) string {
	if m.Impulse != nil {
		return fmt.Sprintf("an impulse response of %s at %g Hz", unit.Seconds(float64(len(m.Impulse.Samples))/m.Impulse.Rate), m.Impulse.Rate)
	}
	t := m.Table
	words := fmt.Sprintf("a table of %d rows from %s to %s", len(t.Frequencies), unit.Frequency(t.Frequencies[0]), unit.Frequency(t.Frequencies[len(t.Frequencies)-1]))
	if t.Smoothing > 0 {
		words += fmt.Sprintf(", smoothed to 1/%d octave", t.Smoothing)
	}
	return words
}

// sumAgrees is the rest between left plus right and both together, dB, above which the analysis warns.
const sumAgrees model.Level = -20

// writeQuality writes how good the recording is.
func (r Report) writeQuality(b *strings.Builder) {
	q := r.Result.Quality
	fmt.Fprintf(b, "%s\n", text.Wrap(fmt.Sprintf("%s: the sweep begins after %.1f s, the loudest moment is %.1f dB below full scale, and %s.",
		text.Printable(r.Recording), max(0, q.Start), math.Abs(float64(q.Peak)), clocksText(q.Drift)), text.Columns, ""))
	t := text.Table{
		Caption: "How far the response is above the noise, and how much the speaker distorts. Distortion is the worst third octave, harmonics 2 to 5, as the microphone hears it, the room included.",
		Head:    []string{"", "above noise", "at worst", "distortion"},
	}
	for _, p := range r.Result.Parts {
		t.Rows = append(t.Rows, []string{p.Measurement.Speaker.String(), levelCell(p.Signal), levelCell(p.Least), distortionCell(p.Distortion)})
	}
	text.WriteTable(b, t)
	var lines []string
	if q.Sum < sumAgrees {
		lines = append(lines, fmt.Sprintf("Left plus right equals both together; the difference is %.0f dB below it. Nothing changed between the sweeps.", -float64(q.Sum)))
	}
	if !math.IsNaN(q.Later) {
		lines = append(lines, laterText(q.Later, r.Measurements[0].Air().Speed, r.Style))
	}
	text.WriteList(b, "Checks", lines)
}

// clocksText says how far the clocks of player and recorder part.
func clocksText(drift float64) string {
	millionths, way := int(math.Round(drift*1e6)), "fast"
	if millionths < 0 {
		millionths, way = -millionths, "slow"
	}
	if millionths == 0 {
		return "the clocks of player and recorder agree"
	}
	return fmt.Sprintf("the recorder's clock runs %s by %s, which is corrected", way, unit.Plural(millionths, "millionth"))
}

// laterText says by how much one speaker's sound comes after the other's.
func laterText(later, speed float64, s unit.Style) string {
	side, other := "right", "left"
	if later < 0 {
		side, other, later = other, side, -later
	}
	if later < 0.02e-3 {
		return "The sound of both speakers arrives at the same time, within 0.02 ms."
	}
	return fmt.Sprintf("The sound of the %s speaker arrives %.2f ms after that of the %s one, as if it were %s farther.", side, later*1e3, other, s.Fine(later*speed))
}

func levelCell(l model.Level) string {
	if math.IsNaN(float64(l)) {
		return unit.Unknown
	}
	return unit.Decimal(float64(l), 0) + " dB"
}

// distortionCell returns the worst distortion that stands out of the noise.
func distortionCell(list []sweep.Harmonics) string {
	var worst sweep.Harmonics
	for _, h := range list {
		if h.Share > 2*h.Floor && h.Share > worst.Share {
			worst = h
		}
	}
	switch {
	case len(list) == 0:
		return unit.Unknown
	case worst.Share == 0:
		return "below the noise"
	case worst.Share < 0.0005:
		return "below 0.1 %"
	}
	return fmt.Sprintf("%s %% at %s", unit.Decimal(100*worst.Share, 1), unit.Frequency(worst.Frequency))
}

// Notes lists what the files of measurements say of themselves, each once.
func Notes(list ...*measure.Measurement) []string {
	var lines []string
	for _, m := range list {
		for _, note := range m.Notes {
			if line := text.Sentence(text.Printable(note)); !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// Doubts lists what measurements cannot tell, each once.
func Doubts(list ...*measure.Measurement) []string {
	var all measure.Doubt
	for _, m := range list {
		all |= m.Doubts()
	}
	var lines []string
	if all&measure.PhaseUnknown != 0 {
		all &^= measure.TimeUnknown // follows from it
	}
	for _, d := range all.List() {
		lines = append(lines, doubtTexts[d])
	}
	return lines
}

var doubtTexts = map[measure.Doubt]string{
	measure.SmoothingUnknown:   "Smoothing: the levels may have been smoothed, which makes them look more even. Say how with --smoothing.",
	measure.GainUnknown:        "Gain: levels are relative. They compare with another measurement only if neither volume nor recording level was touched.",
	measure.PhaseUnknown:       "Phase: the data hold levels only, so they show no decay.",
	measure.TimeUnknown:        "Time reference: nobody knows when the speaker sounded, so the phase does not give the distance.",
	measure.NoiseUnknown:       "Noise: its level is unknown, and it may fill deep dips.",
	measure.PlaceUnknown:       "Place: no seat is named.",
	measure.SpeakerUnknown:     "Speaker: nothing says which one played.",
	measure.StateUnknown:       "State: nothing says which treatments stood. Give --state bare, or --state and their names.",
	measure.TemperatureUnknown: "Temperature: 10 °C more raise every frequency by 1.7 %.",
	measure.CorrectionUnknown:  "Microphone correction: the figures still contain the microphone's own response. Give its file with --correction.",
}
