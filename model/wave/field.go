package wave

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/concurrent"

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

// newField transforms what a run has recorded. It returns nil if ctx ends first.
func (e *Engine) newField(ctx context.Context, r *run) *Field {
	f := &Field{medium: e.medium, top: e.top(), grid: len(e.grid), early: r.early}
	frames := r.frames[:len(r.frames)-1]
	f.seconds = float64(len(frames)*r.every) * r.step
	f.fallen = fallen(r.energy)
	f.allowed = make([]bool, e.medium.size)
	f.row = make([]int32, e.medium.size)
	for row, cell := range r.record {
		f.allowed[cell] = true
		f.row[cell] = int32(row)
	}
	f.values = make([]complex64, len(r.record)*len(e.grid))
	e.transform(ctx, f.values, r, frames)
	if ctx.Err() != nil {
		return nil
	}
	return f
}

// transform fills values, frequency by frequency and cell after cell, with p/Q. It
// leaves off when ctx ends.
func (e *Engine) transform(ctx context.Context, values []complex64, r *run, frames [][]float32) {
	d := warp{air: e.scene.Air, square: e.medium.meanSquare(), step: r.step}
	phases := make([]complex128, len(e.grid))
	gain := make([]complex128, len(e.grid))
	for i, f := range e.grid {
		w := 2 * math.Pi * f
		phase := d.phase(w)
		phases[i] = phase * complex(float64(r.every), 0)
		gain[i] = complex(float64(r.every), 0) * d.gain(w) / r.pulse.spectrum(phase)
	}
	if r.vectors && e.scene.Air.Loss == 0 {
		e.fold(ctx, values, frames, phases, gain)
		return
	}
	e.each(ctx, values, frames, phases, gain)
}

// each transforms cell by cell.
func (e *Engine) each(ctx context.Context, values []complex64, frames [][]float32, phases, gain []complex128) {
	end := taper(len(frames))
	e.share(len(values)/len(e.grid), func(from, to int) {
		t := newTransformer(phases, len(frames))
		series := make([]float32, len(frames))
		spectrum := make([]complex128, len(e.grid))
		for cell := from; cell < to && ctx.Err() == nil; cell++ {
			for n, frame := range frames {
				series[n] = frame[cell] * end[n]
			}
			t.transform(spectrum, series)
			out := values[cell*len(e.grid):][:len(e.grid)]
			for i, x := range spectrum {
				out[i] = complex64(x * gain[i])
			}
		}
	})
}

// fold transforms group by group, at real phases.
func (e *Engine) fold(ctx context.Context, values []complex64, frames [][]float32, phases, gain []complex128) {
	f := newFolder(phases, taper(len(frames)))
	cells := len(values) / len(e.grid)
	e.share((cells+groupCells-1)/groupCells, func(from, to int) {
		d := f.newDesk()
		for first := from * groupCells; first < min(cells, to*groupCells) && ctx.Err() == nil; first += groupCells {
			count := min(groupCells, cells-first)
			f.fold(d, frames, first, count)
			f.spectra(d, count, func(cell, phase int, x complex128) {
				values[(first+cell)*len(e.grid)+phase] = complex64(x * gain[phase])
			})
		}
	})
}

// share has work done on the first of n things up to the last, in equal parts side by side.
func (e *Engine) share(n int, work func(from, to int)) {
	var group concurrent.Group
	workers := e.settings.Workers
	for w := range workers {
		group.Go(func() { work(n*w/workers, n*(w+1)/workers) })
	}
	group.Wait()
}

// taper returns the weights by which a run is faded out over its last fifth, so
// that what is left at the end does not spill over all frequencies.
func taper(n int) []float32 {
	w := make([]float32, n)
	fade := n / 5
	for i := range w {
		w[i] = 1
		if left := n - i; left <= fade {
			s := math.Sin(math.Pi / 2 * (float64(left) - 0.5) / float64(fade))
			w[i] = float32(s * s)
		}
	}
	return w
}

// fallen returns by how much the energy is down at the end.
func fallen(energy []float64) model.Level {
	if len(energy) == 0 {
		return 0
	}
	var most float64
	for _, e := range energy {
		most = max(most, e)
	}
	return model.PowerLevel(most / energy[len(energy)-1])
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
