package measure

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

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

// Combine returns the power mean, the least and the greatest level of several measurements at the
// frequencies of a grid. Their levels must compare: measured with one gain, or aligned before by
// [Measurement.Gained]. It fails where one of them does not cover the grid.
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

// Measurement returns the average of the positions as a table, with what they have in common: seat,
// speaker, state, temperature. The list holds the measurements that were combined.
func (p *Positions) Measurement(list []*Measurement) *Measurement {
	first := list[0]
	m := &Measurement{
		Seat: first.Seat, Speaker: first.Speaker, Date: first.Date, State: first.State, StateKnown: first.StateKnown, Temperature: first.Temperature,
		Table: &Table{Frequencies: p.Grid, Levels: p.Average},
	}
	for _, o := range list {
		m.Unsure |= o.Doubts() & stored
		if o.Table != nil {
			m.Table.Smoothing = max(m.Table.Smoothing, o.Table.Smoothing)
		}
		if o.Seat != m.Seat {
			m.Seat = ""
		}
		if o.Speaker != m.Speaker {
			m.Speaker = model.UnknownSource
		}
		if o.Date != m.Date {
			m.Date = ""
		}
		if !o.StateKnown || !slices.Equal(o.State, m.State) {
			m.State, m.StateKnown = nil, false
		}
		if o.Temperature != m.Temperature {
			m.Temperature = 0
		}
	}
	m.Notes = append([]string{fmt.Sprintf("the power mean of %d positions", len(list))}, notesOf(list)...)
	return m
}

// notesOf returns the notes of all measurements, each once.
func notesOf(list []*Measurement) []string {
	var notes []string
	for _, m := range list {
		for _, n := range m.Notes {
			if !slices.Contains(notes, n) {
				notes = append(notes, n)
			}
		}
	}
	return notes
}

// Apart returns half the distance between least and greatest level, its mean over lg f, dB.
func (p *Positions) Apart() model.Level {
	var sum, whole float64
	for i := 1; i < len(p.Grid); i++ {
		step := math.Log(p.Grid[i] / p.Grid[i-1])
		whole += step
		sum += step * float64(p.Most[i]-p.Least[i]+p.Most[i-1]-p.Least[i-1]) / 4
	}
	return model.Level(sum / whole)
}
