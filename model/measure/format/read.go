package format

import (
	"bufio"
	"io"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
)

// Options is what the owner says about a file that the file does not tell.
type Options struct {
	Rate    float64   // fs of samples without times, Hz
	Timed   bool      // time zero is when the speaker sounded
	Channel int       // of a WAV file, from 1; 0 only if there is one
	Phase   PhaseUnit // of a table

	// Smoothing of a table: the octave fraction, [model.Unsmoothed], or 0 for not known.
	Smoothing int
}

// PhaseUnit is the unit of a phase column.
type PhaseUnit int

// The units of phase. The zero value is what the heading says, or degrees if there are values
// above 2π.
const (
	PhaseAsFound PhaseUnit = iota
	Degrees
	Radians
)

// Read reads a measurement: our own form, WAV or columns, by what the file holds. The name is
// what errors call it.
func Read(name string, r io.Reader, o Options) (*measure.Measurement, error) {
	in := bufio.NewReader(r)
	start, _ := in.Peek(4)
	if string(start) == "RIFF" || otherForm(start) != "" {
		rec, err := ReadWAV(name, in)
		if err != nil {
			return nil, err
		}
		return fromRecording(name, rec, o)
	}
	lines, err := readText(name, in, needed)
	if err != nil {
		return nil, err
	}
	if strings.TrimSpace(lines[0]) == magic {
		return readNative(name, lines)
	}
	if strings.HasPrefix(lines[0], "evenbass measurement") {
		return nil, fault(name, 1, "is of another version than %q", magic)
	}
	if slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, "room:") }) {
		return nil, fault(name, 0, "is a room file; "+needed)
	}
	return fromColumns(name, lines, o)
}

// fromColumns reads a table or samples.
func fromColumns(name string, lines []string, o Options) (*measure.Measurement, error) {
	c, err := readColumns(name, lines, needed)
	if err != nil {
		return nil, err
	}
	m := &measure.Measurement{Unsure: measure.GainUnknown | measure.CorrectionUnknown}
	if len(c.rows[0]) == 1 || c.timeUnit() > 0 {
		m.Impulse, err = c.impulse(o)
	} else if m.Table, err = c.table(o); err == nil {
		switch {
		case o.Smoothing == 0:
			m.Unsure |= measure.SmoothingUnknown
		case o.Smoothing > 0:
			m.Table.Smoothing = o.Smoothing
		}
		if !o.Timed {
			m.Unsure |= measure.TimeUnknown
		}
	}
	if err != nil {
		return nil, err
	}
	return checked(name, m)
}

// fromRecording takes an impulse response from a WAV file. Time zero is its first sample.
func fromRecording(name string, rec *measure.Recording, o Options) (*measure.Measurement, error) {
	channel, err := Channel(name, rec, o.Channel)
	if err != nil {
		return nil, err
	}
	m := &measure.Measurement{
		Impulse: &measure.Impulse{Samples: channel, Rate: rec.Rate, Timed: o.Timed},
		Unsure:  measure.GainUnknown | measure.CorrectionUnknown,
	}
	if rec.Cut {
		m.Notes = append(m.Notes, "the file ends before its header says")
	}
	return checked(name, m)
}

// Channel returns a channel of a recording, from 1. With 0 there must be only one that is not
// silent, or all must be the same.
func Channel(name string, rec *measure.Recording, number int) ([]float64, error) {
	n := len(rec.Channels)
	switch {
	case number < 0 || number > n:
		return nil, fault(name, 0, "has %d channels; there is no channel %d", n, number)
	case number > 0:
		return rec.Channels[number-1], nil
	}
	found := rec.Channels[0]
	for _, c := range rec.Channels[1:] {
		switch {
		case silent(c) || slices.Equal(c, found):
		case silent(found):
			found = c
		default:
			return nil, fault(name, 0, "has %d channels; say which one holds the microphone", n)
		}
	}
	return found, nil
}

// silent reports a channel that nothing was connected to.
func silent(x []float64) bool {
	return !slices.ContainsFunc(x, func(v float64) bool { return v != 0 })
}

// checked refuses a measurement that cannot be used.
func checked(name string, m *measure.Measurement) (*measure.Measurement, error) {
	if err := m.Check(); err != nil {
		return nil, fault(name, 0, "holds %v", err)
	}
	return m, nil
}

// ReadCorrection reads the response of a microphone: columns of frequency and level in dB, by how
// much it reads too much. A line with its sensitivity may stand before.
func ReadCorrection(name string, r io.Reader) (*measure.Table, error) {
	lines, err := readText(name, r, neededCorrection)
	if err != nil {
		return nil, err
	}
	c, err := readColumns(name, lines, neededCorrection)
	if err != nil {
		return nil, err
	}
	t, err := c.table(Options{Phase: Degrees})
	if err != nil {
		return nil, err
	}
	var most model.Level
	for _, l := range t.Levels {
		most = max(most, l, -l)
	}
	if most > mostCorrection {
		return nil, fault(name, 0, "takes %.0f dB off; that is no microphone's response, which is about 0 dB at 1 kHz", float64(most))
	}
	return t, nil
}

// mostCorrection is what a microphone may be off by, dB. Common practice, no source.
const mostCorrection = 40
