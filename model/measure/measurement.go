package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Measurement is what was measured at one seat while one speaker, or both, played. It
// holds an impulse response or a table, never both. Whatever has its zero value is not
// known.
type Measurement struct {
	Name        string
	Seat        string       // the seat's name in the room file
	Speaker     model.Source // what played
	Placed      bool         // At is where the microphone stood
	At          r3.Vec       // m, see package model
	Date        string       // as the owner wrote it
	State       []string     // names of the treatments that stood
	StateKnown  bool         // State is complete: an empty one is a bare room
	Temperature float64      // K; 0 is not known
	Notes       []string     // what else is to be told, such as [InventedNote]

	Impulse *Impulse
	Table   *Table

	// Band is where the data hold, Hz: that of the sweep, or of the table. One that is not
	// given reaches as far as the data.
	Band model.Range

	// Noise is the level of the noise on the scale of the response, dB, by frequency.
	// Nil is not known.
	Noise *Table

	// Unsure is what the file could not tell and nobody said. See [Measurement.Doubts].
	Unsure Doubt
}

// InventedNote begins the first note of a measurement that nobody made. The note travels with the file.
const InventedNote = "invented by evenbass to try things out; nobody measured it"

// Invented reports whether nobody made the measurement, so that no page calls it measured.
func (m *Measurement) Invented() bool {
	return slices.ContainsFunc(m.Notes, func(n string) bool { return strings.HasPrefix(n, InventedNote) })
}

// Check reports what makes a measurement unusable: no data, two kinds of data, broken data.
func (m *Measurement) Check() error {
	var err error
	switch {
	case m.Impulse == nil && m.Table == nil:
		return errors.New("measurement without data")
	case m.Impulse != nil && m.Table != nil:
		return errors.New("measurement with both an impulse response and a table")
	case m.Impulse != nil:
		err = m.Impulse.check()
	default:
		err = m.Table.check()
	}
	if err == nil && m.Noise != nil {
		if err = m.Noise.check(); err != nil {
			err = fmt.Errorf("noise: %w", err)
		}
	}
	return err
}

// HasPhase reports whether the response has a phase: an impulse response, or a table with
// a column for it.
func (m *Measurement) HasPhase() bool {
	return m.Impulse != nil || m.Table != nil && m.Table.Phases != nil
}

// HasTime reports whether time zero is the moment at which the speaker sounded, so that
// the phase holds the distance to the seat. A table may have a phase of which the delay
// was taken out; that is for the owner to say.
func (m *Measurement) HasTime() bool {
	if m.Impulse != nil {
		return m.Impulse.Timed
	}
	return m.HasPhase() && m.Unsure&TimeUnknown == 0
}

// Limits returns the lowest and the highest frequency in Hz at which the data hold.
func (m *Measurement) Limits() model.Range {
	limits := model.Range{}
	switch {
	case m.Impulse != nil:
		limits = model.Range{Min: m.Impulse.Rate / float64(len(m.Impulse.Samples)), Max: 0.45 * m.Impulse.Rate}
	case m.Table != nil && len(m.Table.Frequencies) > 0:
		f := m.Table.Frequencies
		limits = model.Range{Min: f[0], Max: f[len(f)-1]}
	}
	if m.Band.Given() {
		limits.Min, limits.Max = max(limits.Min, m.Band.Min), min(limits.Max, m.Band.Max)
	}
	return limits
}

// slack is by how much a frequency may pass a limit, for limits that were rounded.
const slack = 1e-6

// Within returns the part of a grid that the data cover; it may be empty.
func (m *Measurement) Within(grid model.Grid) model.Grid {
	limits := m.Limits()
	var inside model.Grid
	for _, f := range grid {
		if f >= limits.Min*(1-slack) && f <= limits.Max*(1+slack) {
			inside = append(inside, f)
		}
	}
	return inside
}

// Response returns H at the frequencies of a grid, e^{+jωt}, re an arbitrary reference. Its
// phase is zero where none is known. A grid that reaches beyond [Measurement.Limits] is an
// error; see [Measurement.Within].
func (m *Measurement) Response(grid model.Grid) ([]complex128, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	if limits := m.Limits(); len(m.Within(grid)) != len(grid) {
		return nil, fmt.Errorf("the measurement holds from %.4g to %.4g Hz, asked for %.4g to %.4g Hz", limits.Min, limits.Max, grid[0], grid[len(grid)-1])
	}
	if m.Impulse != nil {
		return m.Impulse.Response(grid), nil
	}
	return m.Table.Response(grid), nil
}

// Transfer returns the transfer p in Pa·s/m³ that would give this response to a speaker
// that is flat outdoors, as [response.Reader] takes it:
//
//	p = jωρ H / 4π
//
// so that the reader's level is 20 lg|H|, up to one constant. See [Measurement.Response]
// for the grid and the phase. The air is that of the reader.
func (m *Measurement) Transfer(grid model.Grid, air model.Air) ([]complex128, error) {
	h, err := m.Response(grid)
	for i, f := range grid[:len(h)] {
		h[i] *= complex(0, f*air.Density/2)
	}
	return h, err
}

// NoiseLevels returns the noise at the frequencies of a grid, on the scale of
// [Measurement.Levels], dB; NaN where it is not known, nil if it is known nowhere.
func (m *Measurement) NoiseLevels(grid model.Grid) []model.Level {
	if m.Noise == nil || len(m.Noise.Frequencies) == 0 {
		return nil
	}
	list := make([]model.Level, len(grid))
	f := m.Noise.Frequencies
	for i := range grid {
		list[i] = model.Level(math.NaN())
		if grid[i] >= f[0]*(1-slack) && grid[i] <= f[len(f)-1]*(1+slack) {
			list[i] = m.Noise.level(grid[i])
		}
	}
	return list
}

// Air returns the air in which was measured.
func (m *Measurement) Air() model.Air { return model.AirAt(m.Temperature) }

// Grid returns frequencies for the figures of a goal: steps of 1/48 octave or 0.5 Hz, over the
// range that predictions cover too, as far as the data reach.
func (m *Measurement) Grid() model.Grid {
	usual := model.DefaultGrid()
	limits := m.Limits()
	from, to := max(usual[0], limits.Min), min(usual[len(usual)-1], limits.Max)
	if !(to > from) {
		return nil
	}
	return model.NewGrid(from, to, 48, 0.5)
}

// Covered returns the part of a goal that the data cover: its band may be narrower.
func (m *Measurement) Covered(goal model.Goal) model.Goal {
	if grid := m.Grid(); grid != nil {
		goal.From, goal.To = max(goal.From, grid[0]), min(goal.To, grid[len(grid)-1])
	}
	return goal
}
