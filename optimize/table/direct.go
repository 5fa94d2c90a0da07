package table

import (
	"math"

	"evenbass/model"
)

// direct gives the free-field transfer from a table over distance: the nearest entry, with
// its phase turned by the remaining distance.
type direct struct {
	turn []complex128 // -jk per frequency
	rows [][]complex128
}

// directPitch is the distance between two rows, m. The series of the phase factor ends after
// the third power: at 315 Hz its error is below (5.8·0.005)⁴/24 = 3e-8.
const directPitch = 0.01

// newDirect returns a table for distances up to the given one, m.
func newDirect(grid model.Grid, air model.Air, farthest float64) *direct {
	d := &direct{turn: make([]complex128, len(grid))}
	for i, f := range grid {
		d.turn[i] = complex(0, -1) * air.Wavenumber(f)
	}
	d.rows = make([][]complex128, directRows(farthest))
	for n := range d.rows {
		r := max(1, float64(n)) * directPitch
		d.rows[n] = model.FreeField(nil, grid, air, r)
		for i := range d.rows[n] {
			d.rows[n][i] *= complex(r, 0)
		}
	}
	return d
}

// directRows returns how many rows reach the given distance, m.
func directRows(farthest float64) int { return int(farthest/directPitch) + 2 }

// directBytes returns how much memory a table for distances up to farthest, in m, takes over so many frequencies.
func directBytes(frequencies int, farthest float64) int {
	return 16 * frequencies * directRows(farthest)
}

// add adds the transfer over a distance r, m, to dst. Below one row's pitch it stays constant: no listener
// sits inside a woofer.
func (d *direct) add(dst []complex128, r float64) {
	r = max(r, directPitch)
	n := min(int(math.Round(r/directPitch)), len(d.rows)-1)
	rest := r - float64(n)*directPitch
	row, scale := d.rows[n], complex(1/r, 0)
	for i, t := range d.turn {
		x := t * complex(rest, 0)
		dst[i] += row[i] * scale * (1 + x*(1+x*(0.5+x*complex(1.0/6, 0))))
	}
}
