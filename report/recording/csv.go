package recording

import (
	"fmt"
	"io"
	"math"
	"math/cmplx"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/report/data"
)

// ResponseCSV writes the responses as comma-separated values, one row per frequency under one row
// of names, for each measurement by its column's name in the text:
//
//	frequency_hz
//	left_level_db    not smoothed, re an arbitrary reference
//	left_phase_rad   if it is known, e^{+jωt}, between -π and π
//	left_noise_db    of the noise, if it is known
//
// and, if positions were averaged, least_level_db and greatest_level_db. Cells are empty where
// nothing is known.
func (r Report) ResponseCSV(w io.Writer) error {
	grid := r.grid()
	rows := make([][]string, len(grid)+1)
	rows[0] = []string{"frequency_hz"}
	for i, f := range grid {
		rows[i+1] = []string{data.Digits(f)}
	}
	add := func(name string, cell func(i int) string) {
		rows[0] = append(rows[0], name)
		for i := range grid {
			rows[i+1] = append(rows[i+1], cell(i))
		}
	}
	for k, m := range r.Measurements {
		h, noise := responseOver(m, grid), m.NoiseLevels(grid)
		name := data.SafeCell(r.Name(k))
		add(name+"_level_db", func(i int) string { return data.Level(model.LevelOf(cmplx.Abs(h[i]))) })
		if m.HasPhase() {
			add(name+"_phase_rad", func(i int) string {
				if cmplx.IsNaN(h[i]) {
					return ""
				}
				return fmt.Sprintf("%.4f", cmplx.Phase(h[i]))
			})
		}
		if noise != nil {
			add(name+"_noise_db", func(i int) string { return data.Level(noise[i]) })
		}
	}
	if p := r.Positions; p != nil {
		at := func(levels []model.Level, i int) string {
			if f := grid[i]; f < p.Grid[0] || f > p.Grid[len(p.Grid)-1] {
				return ""
			}
			return data.Level(levels[p.Grid.Nearest(grid[i])])
		}
		add("least_level_db", func(i int) string { return at(p.Least, i) })
		add("greatest_level_db", func(i int) string { return at(p.Most, i) })
	}
	return data.WriteRows(w, rows)
}

// grid returns the frequencies of the first measurement, or those at which positions were averaged.
func (r Report) grid() model.Grid {
	if r.Positions != nil {
		return r.Positions.Grid
	}
	return r.Measurements[0].Grid()
}

// responseOver returns the response over a grid, NaN where the data do not reach.
func responseOver(m *measure.Measurement, grid model.Grid) []complex128 {
	h := make([]complex128, len(grid))
	known := map[float64]complex128{}
	inside := m.Within(grid)
	if got, err := m.Response(inside); err == nil {
		for i, f := range inside {
			known[f] = got[i]
		}
	}
	for i, f := range grid {
		v, ok := known[f]
		if !ok {
			v = complex(math.NaN(), math.NaN())
		}
		h[i] = v
	}
	return h
}
