package mode

import (
	"fmt"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Field is the exact modal field of one seat. It implements [model.Field].
type Field struct {
	engine *Engine
	seat   r3.Vec
	shapes [][3][]complex128 // by frequency and axis: ψ at the seat, of every mode
}

var _ model.Field = (*Field)(nil)

// Field implements [model.Engine]. The result is a [*Field]. It is an error if
// the seat is not inside the box.
func (e *Engine) Field(seat r3.Vec) (model.Field, error) {
	if !e.box.Contains(seat) {
		return nil, fmt.Errorf("mode: seat at %v m is outside the box of %v m", seat, e.box.Size)
	}
	f := &Field{engine: e, seat: seat, shapes: make([][3][]complex128, len(e.grid))}
	for i := range f.shapes {
		for d := range 3 {
			f.shapes[i][d] = e.axes[i][d].shapesAt(nil, component(seat, d))
		}
	}
	return f, nil
}

// shapesAt returns ψ at x for every mode of the axis, appended to dst.
func (ax *axis) shapesAt(dst []complex128, x float64) []complex128 {
	for m := range ax.modes {
		dst = append(dst, ax.modes[m].at(x))
	}
	return dst
}

// Transfer implements [model.Field]. It panics if the source is outside the box.
func (f *Field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	e := f.engine
	if !e.box.Contains(source) {
		panic(fmt.Sprintf("mode: source at %v m is outside the box of %v m", source, e.box.Size))
	}
	dst = model.Transfers(dst, len(e.grid))
	d := along(source, f.seat)
	x, xs := component(source, d), component(f.seat, d)
	pairs, mirrored := e.pairsAlong(d), x > xs
	for i := range dst {
		first, b, c := &e.axes[i][d], (d+1)%3, (d+2)%3
		psiB := e.axes[i][b].shapesAt(nil, component(source, b))
		psiC := e.axes[i][c].shapesAt(nil, component(source, c))
		var sum complex128
		for _, p := range e.settings.within(pairs[i], math.Abs(x-xs)) {
			sum += p.gain * psiB[p.m] * f.shapes[i][b][p.m] * psiC[p.n] * f.shapes[i][c][p.n] *
				first.before(p.kappa, x, mirrored) * first.behind(p.kappa, xs, mirrored)
		}
		dst[i] = complex(0, 2*math.Pi*e.grid[i]*e.box.Air.Density) * sum
	}
	return dst
}

// along returns the axis of the closed form for two places: x if they are well
// apart on it, so that many places share one axis, else that of the largest
// separation.
func along(a, b r3.Vec) int {
	const well = 0.9 // m; about 200 pairs of modes
	s := r3.Sub(a, b)
	x, y, z := math.Abs(s.X), math.Abs(s.Y), math.Abs(s.Z)
	switch {
	case x >= well || x >= y && x >= z:
		return 0
	case y >= z:
		return 1
	}
	return 2
}
