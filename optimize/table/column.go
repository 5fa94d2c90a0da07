package table

// columnPart names what the seats at x share of one panel of sources at one of its heights: the
// table summed over the seats' x. Seats that share an x, displaced ears included, need that sum only
// once. The seats' y and the sources remain.
type columnPart struct {
	x      float64
	panel  *panel
	height int
}

// columnBytes returns how much memory the numbers of a part take.
func (t *Engine) columnBytes(c columnPart) int { return len(t.Seats.y.nodes) * t.seatBytes(c.panel) }

// column returns the numbers of a part: by seat node along y, by source node, re and im by frequency.
func (t *Engine) column(c columnPart) []float32 {
	rows, _ := t.columns.Get(c, func() ([]float32, error) {
		ny, n := len(t.Seats.y.nodes), t.numbers(c.panel)
		shares := t.Seats.x.shares(c.x)
		for i := range shares {
			shares[i].node *= ny
		}
		first := t.first(c.panel, c.height)
		rows := make([]float32, ny*n)
		for j := range ny {
			combine(rows[j*n:(j+1)*n], shares, t.rows[j*t.stride+first:], t.stride)
		}
		return rows, nil
	})
	return rows
}
