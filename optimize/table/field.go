package table

import (
	"context"
	"slices"

	"evenbass/model"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// tableField is a seat read from a table: the seat's dimensions are summed, the source's
// remain.
type tableField struct {
	table  *Engine
	seat   r3.Vec
	shares []nodeWeight // of the nodes of the column or, without one, of all
	column *column      // nil where the seats are on lines
	parts  []part       // per panel and height
}

// nodeWeight is the weight of a seat node.
type nodeWeight struct {
	weight float64
	node   int
}

// Field implements [model.Engine].
func (t *Engine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if !t.Seats.holds(seat) {
		return t.Band.Field(ctx, seat)
	}
	return t.fields.Get(seat, func() (model.Field, error) {
		f := &tableField{table: t, seat: seat, parts: make([]part, t.parts())}
		if len(t.Seats.y.nodes) == 1 {
			f.shares = t.Seats.weights(seat)
			return f, nil
		}
		f.column = t.column(seat.X)
		var by [maxNodes]float64
		for j, w := range t.Seats.y.weights(by[:], seat.Y) {
			if w != 0 {
				f.shares = append(f.shares, nodeWeight{w, j})
			}
		}
		return f, nil
	})
}

// parts returns how many panels and heights there are.
func (t *Engine) parts() int {
	last := t.panels[len(t.panels)-1]
	return last.part + len(last.z)
}

// numbers returns how many numbers a panel has at one height.
func (t *Engine) numbers(p *panel) int { return p.plane() * 2 * (t.Hi - t.Lo) }

// part returns the numbers of one panel at its height number z.
func (f *tableField) part(p *panel, z int) []float32 {
	return f.parts[p.part+z].Get(func() []float32 {
		t := f.table
		rows := make([]float32, t.numbers(p))
		if f.column != nil {
			combine(rows, f.shares, f.column.part(t, p, z), len(rows))
			return rows
		}
		first := (p.first + z*p.plane()) * 2 * (t.Hi - t.Lo)
		combine(rows, f.shares, t.rows[first:], t.stride)
		return rows
	})
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
	combine(out, shares, f.part(p, z), n)
	for i := range dst {
		dst[i] = complex(float64(out[2*i]), float64(out[2*i+1]))
	}
	t.direct.add(dst, r3.Norm(r3.Sub(source, f.seat)))
	return dst
}

// panel returns the panel that holds a place and the number of its height, or nil.
func (t *Engine) panel(source r3.Vec) (*panel, int) {
	for i := range t.panels {
		p := &t.panels[i]
		if !p.x.span.Contains(source.X) || !p.y.span.Contains(source.Y) {
			continue
		}
		if z := slices.IndexFunc(p.z, func(z float64) bool { return geometry.Same(z, source.Z) }); z >= 0 {
			return p, z
		}
	}
	return nil, 0
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
