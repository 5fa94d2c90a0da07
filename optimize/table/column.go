package table

import "sync"

// column is a table summed over the seats' x: seats that share an x, displaced ears
// included, need that sum only once. The seats' y and the sources remain.
type column struct {
	shares []nodeWeight // of the nodes along x
	parts  []part       // per panel and height: by seat node along y, by source node
}

// columnsKept returns how many columns are kept at a time.
func (t *Engine) columnsKept() int { return keptColumns / (4 * t.stride * len(t.Seats.y.nodes)) }

// column returns what the seats at x share.
func (t *Engine) column(x float64) *column {
	c, _ := t.columns.Get(x, func() (*column, error) {
		var bx [maxNodes]float64
		c := &column{parts: make([]part, t.parts())}
		for i, w := range t.Seats.x.weights(bx[:], x) {
			if w != 0 {
				c.shares = append(c.shares, nodeWeight{w, i * len(t.Seats.y.nodes)})
			}
		}
		return c, nil
	})
	return c
}

// part returns the numbers of one panel at its height number z, seat node by seat node along
// y.
func (c *column) part(t *Engine, p *panel, z int) []float32 {
	return c.parts[p.part+z].Get(func() []float32 {
		ny, n := len(t.Seats.y.nodes), t.numbers(p)
		first := (p.first + z*p.plane()) * 2 * (t.Hi - t.Lo)
		rows := make([]float32, ny*n)
		for j := range ny {
			combine(rows[j*n:(j+1)*n], c.shares, t.rows[j*t.stride+first:], t.stride)
		}
		return rows
	})
}

// part holds the numbers of one panel at one height, summed when first needed.
type part struct {
	once sync.Once
	rows []float32 // re, im by frequency
}

func (p *part) Get(sum func() []float32) []float32 {
	p.once.Do(func() { p.rows = sum() })
	return p.rows
}
