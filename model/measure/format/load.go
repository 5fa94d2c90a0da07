package format

import (
	"fmt"
	"io"

	"evenbass/model"
	"evenbass/model/measure"
)

// Load reads a measurement that a room file names, takes out the microphone's response, and
// adds what the room file says of it: name, seat, speaker, date, state, temperature. Open
// returns the file of a path from the room file's folder. It is an error if the measurement's
// own file says something else about the seat or the speaker.
func Load(p *model.Project, entry *model.Measured, open func(path string) (io.ReadCloser, error)) (*measure.Measurement, error) {
	var m *measure.Measurement
	err := opened(entry.File, open, func(r io.Reader) (err error) {
		m, err = Read(entry.File, r, Options{Smoothing: entry.Smoothing})
		return err
	})
	if err != nil {
		return nil, err
	}
	return Complete(p, entry, m, open)
}

// Complete takes the microphone's response out of a measurement, and adds what a room file's entry
// says of it; see [Load].
func Complete(p *model.Project, entry *model.Measured, m *measure.Measurement, open func(path string) (io.ReadCloser, error)) (*measure.Measurement, error) {
	if entry.Correction != "" {
		err := opened(entry.Correction, open, func(r io.Reader) error {
			microphone, err := ReadCorrection(entry.Correction, r)
			if err == nil && m.Unsure&measure.CorrectionUnknown == 0 {
				err = fault(entry.File, 0, "has its microphone's response taken out already; leave out its correction")
			}
			if err == nil {
				m = m.Corrected(microphone)
			}
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return m, describe(p, entry, m)
}

// CheckCorrection reports what is wrong with a file of a microphone's response, before anything is recorded.
func CheckCorrection(path string, open func(path string) (io.ReadCloser, error)) error {
	return opened(path, open, func(r io.Reader) error {
		_, err := ReadCorrection(path, r)
		return err
	})
}

// opened opens a file, reads it and closes it.
func opened(path string, open func(string) (io.ReadCloser, error), read func(io.Reader) error) error {
	f, err := open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	return read(f)
}

// describe adds what the room file says.
func describe(p *model.Project, entry *model.Measured, m *measure.Measurement) error {
	seat, ok := p.SeatOf(entry)
	switch {
	case !ok:
		return fault(entry.File, 0, "was measured at %q, which is no seat of the room file", entry.Seat)
	case m.Seat != "" && m.Seat != seat.Name:
		return fault(entry.File, 0, "says it was measured at %q, the room file says at %q", short(m.Seat), short(seat.Name))
	case m.Speaker != model.UnknownSource && m.Speaker != entry.Speaker:
		return fault(entry.File, 0, "says that %v played, the room file says %v", m.Speaker, entry.Speaker)
	}
	m.Name, m.Seat, m.Speaker = entry.Title(), seat.Name, entry.Speaker
	if !m.Placed && seat.Placed {
		m.At, m.Placed = seat.At, true
	}
	if entry.Date != "" {
		m.Date = entry.Date
	}
	if entry.StateKnown {
		m.State, m.StateKnown = entry.State, true
	}
	if m.Temperature == 0 {
		m.Temperature = p.Room.Temperature
	}
	return nil
}

// Find returns the room file's measurement of a name, or of a file.
func Find(p *model.Project, name string) (*model.Measured, error) {
	for i := range p.Measurements {
		if p.Measurements[i].Title() == name {
			return &p.Measurements[i], nil
		}
	}
	for i := range p.Measurements {
		if p.Measurements[i].File == name {
			return &p.Measurements[i], nil
		}
	}
	var names []string
	for i := range p.Measurements {
		names = append(names, fmt.Sprintf("%q", p.Measurements[i].Title()))
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("the room file names no measurements")
	}
	return nil, fmt.Errorf("the room file names no measurement %q; it names %v", name, names)
}

// Unread is a measurement that a room file names and that cannot be read.
type Unread struct {
	Name string
	Err  error
}

// Error implements error.
func (u *Unread) Error() string { return model.Sprintf("measurement %q: %v", u.Name, u.Err) }

// Unwrap returns the error of the reading.
func (u *Unread) Unwrap() error { return u.Err }

// LoadAll reads all measurements that a room file names, in its order, and returns what is wrong
// with those that cannot be read; see [Load].
func LoadAll(p *model.Project, open func(path string) (io.ReadCloser, error)) (list []*measure.Measurement, faults []*Unread) {
	for i := range p.Measurements {
		m, err := Load(p, &p.Measurements[i], open)
		if err == nil {
			err = m.Check()
		}
		if err != nil {
			faults = append(faults, &Unread{Name: short(p.Measurements[i].Title()), Err: err})
			continue
		}
		list = append(list, m)
	}
	return list, faults
}
