package solver

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/march"
	"evenbass/model/wave/spectrum"
)

// Field is the answer at one seat from every recorded place. It implements [model.Field].
type Field struct {
	*rows
	grid   int         // frequencies
	values []complex64 // row by row

	seconds float64
	early   bool
	fallen  model.Level
}

var _ model.Field = (*Field)(nil)

// newField transforms the record of a run. It stops early when ctx ends.
func (e *Engine) newField(ctx context.Context, r *march.Record) *Field {
	f := &Field{rows: e.rows, grid: len(e.grid), early: r.Early, seconds: r.Seconds(), fallen: r.Fallen()}
	if e.rows.planes != nil {
		fold(e.rows.planes, r.Frames)
	}
	phases, gain := readings(r, e.grid)
	f.values = spectrum.Transform(ctx, r.Frames, r.Rest, phases, gain)
	return f
}

// readings returns the phases per frame and the gains of a record over a grid.
func readings(r *march.Record, grid model.Grid) (phases, gain []complex128) {
	phases, gain = make([]complex128, len(grid)), make([]complex128, len(grid))
	for i, f := range grid {
		phases[i], gain[i] = r.Reading(f)
	}
	return phases, gain
}

// read returns the transfer over any grid to a place that the field covers, from the record that the
// field was made of. [Engine.newField] left that record row by row like the field.
func (f *Field) read(ctx context.Context, r *march.Record, place r3.Vec, grid model.Grid) []complex128 {
	list, _ := f.at(place)
	series := make([][]float32, len(r.Frames))
	for n, frame := range r.Frames {
		var sum float64
		for _, row := range list {
			sum += row.Share * float64(frame[row.Cell])
		}
		series[n] = []float32{float32(sum)}
	}
	phases, gain := readings(r, grid)
	transfer := make([]complex128, len(grid))
	for i, v := range spectrum.Transform(ctx, series, r.Rest, phases, gain) {
		transfer[i] = complex128(v)
	}
	return transfer
}

// Narrowed returns the field with the answers of an engine for fewer places of the same scene, so
// that the rest can be forgotten. It returns the field itself if that engine asks for all there is
// or for more.
func (f *Field) Narrowed(e *Engine) *Field {
	list, ok := e.rows.within(f.rows)
	if !ok || len(list) >= f.count {
		return f
	}
	n := *f
	n.rows = e.rows
	n.values = make([]complex64, 0, len(list)*f.grid)
	for _, row := range list {
		n.values = append(n.values, f.values[int(row)*f.grid:][:f.grid]...)
	}
	return &n
}

// Covers reports whether the field has an answer for a place: it was recorded and is in the air.
func (f *Field) Covers(place r3.Vec) bool {
	_, ok := f.at(place)
	return ok
}

// Transfer implements [model.Field]. It panics if the field does not cover the source.
func (f *Field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, f.grid)
	list, ok := f.at(source)
	if !ok {
		panic(fmt.Sprintf("wave: no answer was kept for %.2f, %.2f, %.2f m", source.X, source.Y, source.Z))
	}
	sum := make([]complex64, f.grid)
	for _, r := range list {
		spectrum.AddTimes(sum, float32(r.Share), f.values[int(r.Cell)*f.grid:][:f.grid])
	}
	for i, v := range sum {
		dst[i] = complex128(v)
	}
	return dst
}

// Seconds returns how long the run lasted, in the room's time.
func (f *Field) Seconds() float64 { return f.seconds }

// Warnings reports a run that was stopped early.
func (f *Field) Warnings() []model.Warning {
	if !f.early {
		return nil
	}
	return []model.Warning{model.RunStopped{Seconds: f.seconds, Fallen: f.fallen}}
}

// Nearest returns a place if the field covers it, otherwise a covered place nearby, searched in
// rings a third of a cell apart. It panics if the field covers no place.
func (f *Field) Nearest(p r3.Vec) r3.Vec {
	if f.Covers(p) {
		return p
	}
	size := f.medium.Extent()
	inside := func(x, most float64) float64 { return max(0, min(x, most)) }
	p = r3.Vec{X: inside(p.X, size.X), Y: inside(p.Y, size.Y), Z: nearestHeight(f.planes, inside(p.Z, size.Z))}
	for radius := 0.0; radius < r3.Norm(size); radius += f.medium.H[0] / 3 {
		const directions = 16
		for _, tilt := range [...]float64{0, -1, 1} { // level first, then downwards
			for i := range directions {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / directions)
				q := r3.Add(p, r3.Scale(radius, r3.Unit(r3.Vec{X: cos, Y: sin, Z: tilt})))
				if f.Covers(q) {
					return q
				}
			}
		}
	}
	panic(fmt.Sprintf("wave: no answer was kept near %v", p))
}
