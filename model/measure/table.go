package measure

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"sort"

	"evenbass/model"
)

// Table is a response as levels by frequency.
type Table struct {
	Frequencies []float64     // Hz, ascending
	Levels      []model.Level // dB re an arbitrary reference
	Phases      []float64     // rad, e^{+jωt}; nil if not known

	// Smoothing is the octave fraction by which the levels were smoothed; 0 is none. It
	// counts only where smoothing is not among the doubts.
	Smoothing int
}

// check reports what makes a table unusable.
func (t *Table) check() error {
	n := len(t.Frequencies)
	switch {
	case n < 2:
		return fmt.Errorf("a table of %d frequencies", n)
	case len(t.Levels) != n:
		return fmt.Errorf("%d levels for %d frequencies", len(t.Levels), n)
	case t.Phases != nil && len(t.Phases) != n:
		return fmt.Errorf("%d phases for %d frequencies", len(t.Phases), n)
	}
	for i, f := range t.Frequencies {
		switch {
		case !(f > 0) || math.IsInf(f, 0):
			return fmt.Errorf("a frequency of %g Hz", f)
		case i > 0 && f <= t.Frequencies[i-1]:
			return errors.New("frequencies that do not ascend")
		case math.IsNaN(float64(t.Levels[i])) || math.IsInf(float64(t.Levels[i]), 0):
			return fmt.Errorf("a level of %g dB at %g Hz", float64(t.Levels[i]), f)
		case t.Phases != nil && (math.IsNaN(t.Phases[i]) || math.IsInf(t.Phases[i], 0)):
			return fmt.Errorf("a phase of %g at %g Hz", t.Phases[i], f)
		}
	}
	return nil
}

// Response returns the response at the frequencies of a grid. Between rows the level is
// straight over lg f and the phase straight over f, by the shorter way round; beyond the
// ends both stay. Without phases it is zero.
func (t *Table) Response(grid model.Grid) []complex128 {
	h := make([]complex128, len(grid))
	for i, f := range grid {
		h[i] = cmplx.Rect(t.level(f).Ratio(), t.phase(f))
	}
	return h
}

// level returns the level at f in Hz.
func (t *Table) level(f float64) model.Level {
	i, _ := t.between(f)
	lower, upper := t.Frequencies[i], t.Frequencies[i+1]
	share := math.Log(f/lower) / math.Log(upper/lower)
	share = max(0, min(1, share))
	return t.Levels[i] + model.Level(share)*(t.Levels[i+1]-t.Levels[i])
}

// phase returns the phase at f in Hz.
func (t *Table) phase(f float64) float64 {
	if t.Phases == nil {
		return 0
	}
	i, share := t.between(f)
	return t.Phases[i] + share*math.Remainder(t.Phases[i+1]-t.Phases[i], 2*math.Pi)
}

// between returns the row below f, and how far f is on the way to the next, 0 to 1.
func (t *Table) between(f float64) (row int, share float64) {
	n := len(t.Frequencies)
	row = max(0, min(n-2, sort.SearchFloat64s(t.Frequencies, f)-1))
	lower, upper := t.Frequencies[row], t.Frequencies[row+1]
	return row, max(0, min(1, (f-lower)/(upper-lower)))
}

// WidestStep returns the widest step between rows within a band, in octaves. Where the rows are
// further apart than the smoothing that a reader applies, what is between them is unknown.
func (t *Table) WidestStep(band model.Range) float64 {
	var widest float64
	for i := 1; i < len(t.Frequencies); i++ {
		if t.Frequencies[i] > band.Min && t.Frequencies[i-1] < band.Max {
			widest = max(widest, math.Log2(t.Frequencies[i]/t.Frequencies[i-1]))
		}
	}
	return widest
}

// CoarseRows warns of a table whose rows are further apart than the goal's smoothing.
func (m *Measurement) CoarseRows(goal model.Goal) []model.Warning {
	if m.Table == nil {
		return nil
	}
	covered := m.Covered(goal)
	step := m.Table.WidestStep(model.Range{Min: covered.From, Max: covered.To})
	if step*float64(goal.Smoothing) <= 1.01 {
		return nil
	}
	return []model.Warning{model.RowsCoarse{Octaves: step}}
}
