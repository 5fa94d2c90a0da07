package mode

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Field is the exact modal field of one seat. It implements [model.Field].
type Field struct {
	engine *Engine
	seat   r3.Vec
	shapes [3]*shapes    // at the seat, by axis
	sides  [3][2]numbers // by axis of the closed form and side of the seat: what the pairs bring to the seat
}

var _ model.Field = (*Field)(nil)

// Field implements [model.Engine]. The result is a [*Field]. It is an error if
// the seat is not inside the box.
func (e *Engine) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	if !e.box.Contains(seat) {
		return nil, fmt.Errorf("mode: seat at %v m is outside the box of %v m", seat, e.box.Size)
	}
	seat = e.box.Clamp(seat)
	f := &Field{engine: e, seat: seat}
	for d := range 3 {
		f.shapes[d] = e.shapesAt(d, component(seat, d))
		for i := range f.sides[d] {
			f.sides[d][i].values = make([][]complex128, len(e.grid))
		}
	}
	return f, nil
}

// Transfer implements [model.Field]. It panics if the source is outside the box.
func (f *Field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	f.mustContain(source)
	source = f.engine.box.Clamp(source)
	dst = model.Transfers(dst, len(f.engine.grid))
	return f.expand(dst, source, along(source, f.seat))
}

// expand fills dst with the transfer by the closed form along axis d.
func (f *Field) expand(dst []complex128, source r3.Vec, d int) []complex128 {
	e := f.engine
	b, c := (d+1)%3, (d+2)%3
	s := f.side(d, component(source, d))
	shapesB, shapesC := e.shapesAt(b, component(source, b)), e.shapesAt(c, component(source, c))
	for i := range dst {
		t := s.terms(i)
		psiB, psiC := shapesB.first(i, t.second), shapesC.first(i, t.third)
		var sum complex128
		for j := range t.pairs {
			p := &t.pairs[j]
			sum += t.factor(j) * psiB[p.m] * psiC[p.n]
		}
		dst[i] = e.pressure(i) * sum
	}
	return dst
}

// pressure returns jωρ, which makes a pressure of G.
func (e *Engine) pressure(i int) complex128 {
	return complex(0, 2*math.Pi*e.grid[i]*e.box.Air.Density)
}

func (f *Field) mustContain(source r3.Vec) {
	if !f.engine.box.Contains(source) {
		panic(fmt.Sprintf("mode: source at %v m is outside the box of %v m", source, f.engine.box.Size))
	}
}

// wellApart is the separation in m along x that is enough to expand along x: about
// 200 pairs of modes in a small room.
const wellApart = 0.9

// along returns the axis of the closed form for two places: x if they are well
// apart on it, so that many places share one axis, else that of the largest
// separation.
func along(a, b r3.Vec) int {
	s := r3.Sub(a, b)
	x, y, z := math.Abs(s.X), math.Abs(s.Y), math.Abs(s.Z)
	switch {
	case x >= wellApart || x >= y && x >= z:
		return 0
	case y >= z:
		return 1
	}
	return 2
}

// lend returns n values out of a slice that grows as needed.
func lend(s *[]complex128, n int) []complex128 {
	if cap(*s) < n {
		*s = make([]complex128, 2*n)
	}
	return (*s)[:n]
}
