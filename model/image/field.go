package image

import (
	"fmt"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Field is the field of one seat. It is safe for use by several goroutines.
type Field struct {
	engine *Engine
	seat   r3.Vec
}

var _ model.Field = (*Field)(nil)

// Transfer implements [model.Field]. A source nearer than 1 mm to the seat is
// taken to be 1 mm away. It panics if the source is outside the room by more than
// a millimetre.
func (f *Field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	l := f.lattice(source)
	return f.sum(dst, &l)
}

// Without is [Field.Transfer] with one wall made fully absorbing: every image that has met the face is left
// out. A dip that then disappears was caused by that wall.
func (f *Field) Without(dst []complex128, source r3.Vec, face model.Face) []complex128 {
	l := f.lattice(source)
	l.without(face)
	return f.sum(dst, &l)
}

func (f *Field) lattice(source r3.Vec) lattice {
	f.engine.mustContain(source)
	return newLattice(f.engine.box.Size, f.engine.box.Clamp(source), f.seat, f.engine.reach.Length)
}

func (e *Engine) mustContain(source r3.Vec) {
	const slack = 1e-3
	s := r3.Vec{X: max(e.box.Size.X, e.box.Tape.X), Y: max(e.box.Size.Y, e.box.Tape.Y), Z: max(e.box.Size.Z, e.box.Tape.Z)}
	if !(min(source.X, source.Y, source.Z) >= -slack &&
		max(source.X-s.X, source.Y-s.Y, source.Z-s.Z) <= slack) {
		panic(fmt.Sprintf("image: source at %v is outside the room of %v m", source, s))
	}
}

func (f *Field) sum(dst []complex128, l *lattice) []complex128 {
	e := f.engine
	dst = model.Transfers(dst, len(e.grid))
	clear(dst)
	w := e.work.Get().(*workspace)
	defer e.work.Put(w)
	clear(w.series.samples)
	e.spreader.add(w.series, l)
	e.plan.run(dst, w.series, w.scratch)
	return dst
}
