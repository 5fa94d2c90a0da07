package table

import (
	"context"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// tableField is a seat read from a table.
type tableField struct {
	table *Engine
	seat  r3.Vec
}

// nodeWeight is the weight of a node.
type nodeWeight struct {
	weight float64
	node   int
}

// Field implements [model.Engine].
func (t *Engine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if !t.Seats.holds(seat) {
		return t.Band.Field(ctx, seat)
	}
	return &tableField{t, seat}, nil
}

// seatPart names what is read for a seat of one panel of sources at one of its heights: the seat's
// dimensions are summed, the source's remain.
type seatPart struct {
	seat   r3.Vec
	panel  *panel
	height int
}

// part returns the numbers of a part: by source node, re and im by frequency.
func (t *Engine) part(s seatPart) []float32 {
	rows, _ := t.parts.Get(s, func() ([]float32, error) {
		rows := make([]float32, t.numbers(s.panel))
		if len(t.Seats.y.nodes) > 1 {
			column := t.column(columnPart{s.seat.X, s.panel, s.height})
			combine(rows, t.Seats.y.shares(s.seat.Y), column, len(rows))
		} else {
			combine(rows, t.Seats.weights(s.seat), t.rows[t.first(s.panel, s.height):], t.stride)
		}
		return rows, nil
	})
	return rows
}

// Transfer implements [model.Field].
func (f *tableField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	t := f.table
	dst = model.Transfers(dst, t.Hi-t.Lo)
	p, z := t.panel(source)
	if p == nil {
		return f.outside(dst, source)
	}
	var bx, by [maxNodes]float64
	var room [maxNodes * 8]nodeWeight
	shares := room[:0]
	wy := p.y.weights(by[:], source.Y)
	for i, a := range p.x.weights(bx[:], source.X) {
		for j, b := range wy {
			shares = append(shares, nodeWeight{a * b, i*len(wy) + j})
		}
	}
	n := 2 * len(dst)
	var sum [2 * 320]float32
	out := sum[:]
	if n > len(sum) {
		out = make([]float32, n)
	}
	out = out[:n]
	combine(out, shares, t.part(seatPart{f.seat, p, z}), n)
	for i := range dst {
		dst[i] = complex(float64(out[2*i]), float64(out[2*i+1]))
	}
	t.direct.add(dst, r3.Norm(r3.Sub(source, f.seat)))
	return dst
}

// outside asks the engine for a place that is not in the table. Transfers have no errors, so this
// one field is not stopped.
func (f *tableField) outside(dst []complex128, source r3.Vec) []complex128 {
	exact, err := f.table.Band.Field(context.Background(), f.seat)
	if err != nil {
		panic("optimize: the engine refused a seat that it had tabulated: " + err.Error())
	}
	return exact.Transfer(dst, source)
}
