package table

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// Filling is the task of [Engine.Fill].
const Filling = "computing the field"

// Fill asks the engine for every node, on all cores.
func (t *Engine) Fill(ctx context.Context, progress model.Progress) error {
	t.direct = newDirect(t.Grid(), t.Air(), t.reach())
	t.Keep(0)
	seats := t.Seats.Places()
	t.rows = make([]float32, len(seats)*t.stride)
	next := progress.Counter(Filling, len(seats))
	return concurrent.Each(len(seats), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		err := t.fillSeat(ctx, t.rows[i*t.stride:(i+1)*t.stride], seats[i])
		next()
		return err
	})
}

// Unread returns a filled table of the same numbers, which it shares, of which nothing has been read yet.
func (t *Engine) Unread() *Engine {
	o := *t
	o.Keep(0)
	return &o
}

// reach returns the largest distance from a source to a seat, m.
func (t *Engine) reach() float64 {
	reach := 0.0
	for _, p := range t.panels {
		for _, x := range []float64{p.x.span.Lo, p.x.span.Hi} {
			for _, y := range []float64{p.y.span.Lo, p.y.span.Hi} {
				for _, z := range p.z {
					reach = max(reach, t.farthest(r3.Vec{X: x, Y: y, Z: z}))
				}
			}
		}
	}
	return reach
}

// farthest returns the largest distance from a place to any corner of the seats.
func (t *Engine) farthest(p r3.Vec) float64 {
	ys := geometry.Span{Lo: t.Seats.y.span.Lo, Hi: t.Seats.y.span.Hi}
	for _, s := range t.Seats.sides {
		ys = ys.Hull(geometry.Span{Lo: s.y, Hi: s.y})
	}
	var reach float64
	for _, x := range []float64{t.Seats.x.span.Lo, t.Seats.x.span.Hi} {
		for _, y := range []float64{ys.Lo, ys.Hi} {
			reach = max(reach, r3.Norm(r3.Sub(p, r3.Vec{X: x, Y: y, Z: t.Seats.ears})))
		}
	}
	return reach
}

// fillSeat fills in the numbers of one seat node.
func (t *Engine) fillSeat(ctx context.Context, row []float32, seat r3.Vec) error {
	field, err := t.Engine.Field(ctx, seat)
	if err != nil {
		return err
	}
	whole, air := t.Engine.Grid(), t.Air()
	free := make([]complex128, t.Hi-t.Lo)
	for _, p := range t.panels {
		all := TransferGrid(field, len(whole), p.x.nodes, p.y.nodes, p.z)
		for n := range p.nodes() {
			source := p.place(n)
			model.FreeField(free, t.Grid(), air, max(r3.Norm(r3.Sub(source, seat)), directPitch))
			out := row[(p.first+n)*2*len(free):]
			at := p.latticeIndex(n) * len(whole)
			for i, v := range all[at+t.Lo : at+t.Hi] {
				v -= free[i]
				out[2*i], out[2*i+1] = float32(real(v)), float32(imag(v))
			}
		}
	}
	return nil
}

// TransferGrid returns the transfers from a lattice of places over a grid of n frequencies,
// all at once if the field supports that.
func TransferGrid(f model.Field, n int, xs, ys, zs []float64) []complex128 {
	if g, ok := f.(model.GridField); ok {
		return g.TransferGrid(nil, xs, ys, zs)
	}
	dst := make([]complex128, len(xs)*len(ys)*len(zs)*n)
	for i, x := range xs {
		for j, y := range ys {
			for l, z := range zs {
				at := ((i*len(ys)+j)*len(zs) + l) * n
				f.Transfer(dst[at:at+n], r3.Vec{X: x, Y: y, Z: z})
			}
		}
	}
	return dst
}
