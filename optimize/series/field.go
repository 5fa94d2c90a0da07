package series

import (
	"context"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

var _ model.Engine = (*Table)(nil)

// Info implements [model.Engine].
func (t *Table) Info() model.EngineInfo { return t.Of }

// Grid implements [model.Engine].
func (t *Table) Grid() model.Grid { return t.grid }

// Air implements [model.Engine].
func (t *Table) Air() model.Air { return t.air }

// Warnings implements [model.Engine].
func (t *Table) Warnings() []model.Warning { return nil }

// Field implements [model.Engine] for seats of the domain. It fails for others.
func (t *Table) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	if d := &t.Domain; !d.Seats.X.Contains(seat.X) || !d.Seats.Y.Contains(seat.Y) || !geometry.Same(seat.Z, d.Ears) {
		return nil, fmt.Errorf("series: the seat %v is outside the table", seat)
	}
	n, per := len(t.grid), t.places()
	rows := make([]float64, 2*per*n)
	wx := polynomials(scaled(t.Domain.Seats.X, seat.X), t.Seats[0])
	wy := polynomials(scaled(t.Domain.Seats.Y, seat.Y), t.Seats[1])
	for i, a := range wx {
		for j, b := range wy {
			add(rows, t.Numbers[(i*t.Seats[1]+j)*len(rows):], a*b)
		}
	}
	return &field{t, seat, rows}, nil
}

func add[T int16 | float64](dst []float64, of []T, weight float64) {
	for i := range dst {
		dst[i] += weight * float64(of[i])
	}
}

// field is a table summed over the seat's series.
type field struct {
	table *Table
	seat  r3.Vec
	rows  []float64
}

// Transfer implements [model.Field]. It panics for a source outside the domain.
func (f *field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	t := f.table
	dst = model.Transfers(dst, len(t.grid))
	sum := make([]float64, 2*len(dst))
	at := 0
	for i, a := range t.Domain.Sources {
		size := len(sum) * t.Panels[i][0] * t.Panels[i][1]
		if h := t.height(source.Z); h >= 0 && a.X.Contains(source.X) && a.Y.Contains(source.Y) {
			at += h * size
			wy := polynomials(scaled(a.Y, source.Y), t.Panels[i][1])
			for m, u := range polynomials(scaled(a.X, source.X), t.Panels[i][0]) {
				for n, v := range wy {
					add(sum, f.rows[at+(m*len(wy)+n)*len(sum):], u*v)
				}
			}
			model.FreeField(dst, t.grid, t.air, max(nearest, r3.Norm(r3.Sub(source, f.seat))))
			for l, step := range t.Step {
				dst[l] += complex(step*sum[2*l], step*sum[2*l+1])
			}
			return dst
		}
		at += len(t.Domain.Heights) * size
	}
	panic(fmt.Sprintf("series: the source %v is outside the table", source))
}

// height returns the number of a woofer's height, or -1.
func (t *Table) height(z float64) int {
	return slices.IndexFunc(t.Domain.Heights, func(h float64) bool { return geometry.Same(h, z) })
}

// Holds reports whether the table covers a layout: the left woofer in its first area, the right
// one in its last.
func (t *Table) Holds(l model.Layout) bool {
	d := &t.Domain
	in := func(area int, v r3.Vec) bool {
		a := d.Sources[area]
		return a.X.Contains(v.X) && a.Y.Contains(v.Y) && t.height(v.Z) >= 0
	}
	return d.Seats.X.Contains(l.Seat.X) && d.Seats.Y.Contains(l.Seat.Y) && geometry.Same(l.Seat.Z, d.Ears) &&
		in(0, l.Left) && in(len(d.Sources)-1, l.Right)
}
