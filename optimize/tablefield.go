package optimize

import (
	"slices"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// tableField is a seat read off a table: the seat's dimensions are summed up, the
// source's remain.
type tableField struct {
	table *table
	seat  r3.Vec
	rows  []float32 // per source node: re, im by frequency
}

// Field implements [model.Engine].
func (t *table) Field(seat r3.Vec) (model.Field, error) {
	if !t.seat[0].span.contains(seat.X) || !t.seat[1].span.contains(seat.Y) || !same(seat.Z, t.ear) {
		return t.banded.Field(seat)
	}
	return t.fields.get(seat, func() (model.Field, error) {
		f := &tableField{table: t, seat: seat, rows: make([]float32, t.stride)}
		var bx, by [maxNodes]float64
		w := outer(t.seat[0].weights(bx[:], seat.X), t.seat[1].weights(by[:], seat.Y))
		combine(f.rows, w, t.rows, t.stride)
		return f, nil
	})
}

// same reports whether two heights are one.
func same(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// outer returns all products of two lists of weights, the second running faster.
func outer(a, b []float64) []float64 {
	w := make([]float64, 0, len(a)*len(b))
	for _, x := range a {
		for _, y := range b {
			w = append(w, x*y)
		}
	}
	return w
}

// Transfer implements [model.Field].
func (f *tableField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	t := f.table
	dst = model.Transfers(dst, t.hi-t.lo)
	p, z := t.panel(source)
	if p == nil {
		return f.outside(dst, source)
	}
	var bx, by [maxNodes]float64
	var bw [maxNodes * maxNodes]float64
	w := bw[:0]
	wy := p.y.weights(by[:], source.Y)
	for _, a := range p.x.weights(bx[:], source.X) {
		for _, b := range wy {
			w = append(w, a*b)
		}
	}
	n := 2 * len(dst)
	var sum [2 * 512]float32
	out := sum[:]
	if n > len(sum) {
		out = make([]float32, n)
	}
	out = out[:n]
	combine(out, w, f.rows[(p.first+z)*n:], len(p.z)*n)
	for i := range dst {
		dst[i] = complex(float64(out[2*i]), float64(out[2*i+1]))
	}
	t.direct.add(dst, r3.Norm(r3.Sub(source, f.seat)))
	return dst
}

// panel returns the panel that holds a place and the number of its height, or
// nil.
func (t *table) panel(source r3.Vec) (*panel, int) {
	for i := range t.panels {
		p := &t.panels[i]
		if !p.x.span.contains(source.X) || !p.y.span.contains(source.Y) {
			continue
		}
		if z := slices.IndexFunc(p.z, func(z float64) bool { return same(z, source.Z) }); z >= 0 {
			return p, z
		}
	}
	return nil, 0
}

// outside asks the engine for a place that is not in the table.
func (f *tableField) outside(dst []complex128, source r3.Vec) []complex128 {
	exact, err := f.table.banded.Field(f.seat)
	if err != nil {
		panic("optimize: the engine refused a seat that it had tabulated: " + err.Error())
	}
	return exact.Transfer(dst, source)
}
