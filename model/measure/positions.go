package measure

import (
	"errors"
	"math"
	"math/cmplx"

	"evenbass/model"
)

// Positions is several measurements as one: of one speaker at several places about a seat,
// or at several seats.
type Positions struct {
	Grid    model.Grid
	Average []model.Level // power mean, dB
	Least   []model.Level // dB
	Most    []model.Level // dB
}

// Combine returns the power mean, the least and the greatest level of several measurements
// at the frequencies of a grid. Each counts as it is: measured with one gain, or aligned
// before by [Measurement.Gained]. It fails where one of them does not cover the grid.
func Combine(list []*Measurement, grid model.Grid) (*Positions, error) {
	if len(list) == 0 {
		return nil, errors.New("no measurements to combine")
	}
	n := len(grid)
	p := &Positions{Grid: grid, Average: make([]model.Level, n), Least: make([]model.Level, n), Most: make([]model.Level, n)}
	least, most, sum := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range least {
		least[i] = math.Inf(1)
	}
	for _, m := range list {
		h, err := m.Response(grid)
		if err != nil {
			return nil, err
		}
		for i, v := range h {
			power := math.Pow(cmplx.Abs(v), 2)
			least[i], most[i] = min(least[i], power), max(most[i], power)
			sum[i] += power
		}
	}
	for i := range grid {
		p.Average[i] = model.PowerLevel(sum[i] / float64(len(list)))
		p.Least[i], p.Most[i] = model.PowerLevel(least[i]), model.PowerLevel(most[i])
	}
	return p, nil
}

// Gained returns a copy of the measurement with its level, and that of its noise, raised by
// gain in dB.
func (m *Measurement) Gained(gain model.Level) *Measurement {
	c := *m
	if m.Impulse != nil {
		im := *m.Impulse
		im.Samples = make([]float64, len(m.Impulse.Samples))
		for i, v := range m.Impulse.Samples {
			im.Samples[i] = v * gain.Ratio()
		}
		c.Impulse = &im
	}
	c.Table, c.Noise = m.Table.gained(gain), m.Noise.gained(gain)
	return &c
}

// gained returns a copy with its levels raised; of nil, nil.
func (t *Table) gained(gain model.Level) *Table {
	if t == nil {
		return nil
	}
	c := *t
	c.Levels = make([]model.Level, len(t.Levels))
	for i, l := range t.Levels {
		c.Levels[i] = l + gain
	}
	return &c
}
