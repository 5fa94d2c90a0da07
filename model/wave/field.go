package wave

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Field is the answer at one seat from every place that was recorded. It
// implements [model.Field].
type Field struct {
	medium  *medium
	top     float64 // highest wavenumber, 1/m
	grid    int     // frequencies
	allowed []bool  // by cell: recorded
	row     []int32 // by cell: row in values
	values  []complex64

	seconds float64
	early   bool
	fallen  model.Level
}

var _ model.Field = (*Field)(nil)

// newField transforms what a run has recorded. It leaves off when ctx ends.
func (e *Engine) newField(ctx context.Context, r *Record) *Field {
	f := &Field{medium: e.medium, top: e.top(), grid: len(e.grid), early: r.early, seconds: r.Seconds(), fallen: r.Fallen()}
	f.allowed = make([]bool, e.medium.size)
	f.row = make([]int32, e.medium.size)
	for row, cell := range e.record {
		f.allowed[cell] = true
		f.row[cell] = int32(row)
	}
	d := dispersion{air: e.scene.Air, square: e.medium.meanSquare(), step: e.system.step}
	phases := make([]complex128, len(e.grid))
	gain := make([]complex128, len(e.grid))
	for i, f := range e.grid {
		w := 2 * math.Pi * f
		phase := d.phase(w)
		phases[i] = phase * complex(float64(r.every), 0)
		gain[i] = complex(float64(r.every), 0) * d.gain(w) / r.pulse.spectrum(phase)
	}
	f.values = transform(ctx, r.frames, phases, gain)
	return f
}

// Covers reports whether the field knows a place: it was recorded and is in air.
func (f *Field) Covers(place r3.Vec) bool {
	_, ok := f.medium.stencilAt(place, f.top, f.allowed)
	return ok
}

// Transfer implements [model.Field]. It panics if the field does not cover the
// place.
func (f *Field) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, f.grid)
	cells, ok := f.medium.stencilAt(source, f.top, f.allowed)
	if !ok {
		panic(fmt.Sprintf("wave: no answer was kept for %.2f, %.2f, %.2f m", source.X, source.Y, source.Z))
	}
	sum := make([]complex64, f.grid)
	for _, c := range cells {
		addTimes(sum, float32(c.weight), f.values[int(f.row[c.cell])*f.grid:][:f.grid])
	}
	for i, v := range sum {
		dst[i] = complex128(v)
	}
	return dst
}

// Seconds returns how long the run lasted in the room's time.
func (f *Field) Seconds() float64 { return f.seconds }

// Warnings lists what is doubtful about the run itself.
func (f *Field) Warnings() []model.Warning {
	if !f.early {
		return nil
	}
	return []model.Warning{model.Warning(fmt.Sprintf(
		"the wave run was cut after %.1f s, when its energy had fallen by %.0f dB only; sharp peaks and dips are blurred",
		f.seconds, float64(f.fallen)))}
}
