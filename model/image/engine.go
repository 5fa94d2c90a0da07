package image

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Settings steer the sum. The zero value is right for most rooms.
type Settings struct {
	// Decay is how far the energy that is left out must have fallen relative to
	// the whole. Zero means -60 dB. The work grows with its cube; -45 dB costs a
	// fifth and changes levels by some hundredths of a dB.
	Decay model.Level

	// MaxLength is the longest path in m, whatever Decay would need: at least twice the room's diagonal. Zero
	// means 700 m.
	MaxLength float64

	// Accuracy is how well the images are added up.
	Accuracy Accuracy
}

// Accuracy trades speed for digits. It concerns the arithmetic only, not how well mirror images describe the
// room.
type Accuracy int

const (
	// Quick is within 1e-4 of the largest value of a transfer.
	Quick Accuracy = iota

	// Exact is within 1e-9. It is about ten times slower; where a wall changes with frequency, also in
	// proportion to the number of frequencies.
	Exact
)

// ErrNoDecay is returned for a room in which sound never ends.
var ErrNoDecay = errors.New("no wall absorbs and the air has no losses, so the images never end")

const (
	defaultDecay     = model.Level(-60)
	defaultMaxLength = 700 // m
	defaultFading    = 0.2 // of the length
)

// method is what an [Accuracy] stands for.
type method struct {
	width        int
	oversampling float64 // rate over twice the highest frequency
	rows         int     // of the kernel's table
	tableError   float64 // of one reflection product; 0 is no tables
	bandError    float64 // of the interpolation over frequency; 0 is none
	fading       float64 // share of the length that the end window takes
}

var methods = map[Accuracy]method{
	Quick: {width: quickWidth, oversampling: 2, rows: 256, tableError: 1e-4, bandError: 1e-2, fading: defaultFading},
	Exact: {width: 12, oversampling: 3, rows: 1024, fading: defaultFading},
}

// Engine sums the images of one room. It is safe for use by several goroutines.
type Engine struct {
	box    model.Box
	grid   model.Grid
	reach  Reach
	wanted model.Level

	spreader spreader
	plan     *plan
	work     sync.Pool // of *workspace
}

var _ model.Engine = (*Engine)(nil)

type workspace struct {
	series  *series
	scratch []float64
}

// New returns an engine for a box room over a grid of frequencies. It fails with [ErrNoDecay] if the images
// never end, and for an invalid box, grid or wall: a size or speed that is not positive, frequencies that do
// not ascend, a wall that gives out energy.
func New(box model.Box, grid model.Grid, s Settings) (*Engine, error) {
	s = s.withDefaults()
	m, ok := methods[s.Accuracy]
	if !ok {
		return nil, fmt.Errorf("image: no accuracy %d", s.Accuracy)
	}
	if err := check(&box, grid, s); err != nil {
		return nil, fmt.Errorf("image: %w", err)
	}
	e := &Engine{box: box, grid: slices.Clone(grid), wanted: s.Decay}
	if err := e.prepare(m, s); err != nil {
		return nil, fmt.Errorf("image: %w", err)
	}
	return e, nil
}

func (s Settings) withDefaults() Settings {
	if s.Decay == 0 {
		s.Decay = defaultDecay
	}
	if s.MaxLength == 0 {
		s.MaxLength = defaultMaxLength
	}
	return s
}

func check(box *model.Box, grid model.Grid, s Settings) error {
	for i, v := range components(box.Size) {
		if !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s is %v m", [3]string{"length", "width", "height"}[i], v)
		}
	}
	if !(box.Air.Speed > 0 && box.Air.Density > 0 && box.Air.Loss >= 0) {
		return fmt.Errorf("air with speed %v m/s, density %v kg/m³ and loss %v", box.Air.Speed, box.Air.Density, box.Air.Loss)
	}
	if !(s.Decay < 0) || !(s.MaxLength > 0) {
		return fmt.Errorf("decay %v dB and longest path %v m", float64(s.Decay), s.MaxLength)
	}
	if l := least(box.Size); s.MaxLength < l {
		return fmt.Errorf("longest path %v m, must be at least twice the room's diagonal, %.1f m", s.MaxLength, l)
	}
	if len(grid) == 0 || !(grid[0] > 0) {
		return errors.New("grid without frequencies above zero")
	}
	for i, f := range grid {
		if i > 0 && !(f > grid[i-1]) {
			return fmt.Errorf("grid does not ascend at %v Hz", f)
		}
		w := wallsAt(box, f)
		if face, ok := w.passive(); !ok {
			return fmt.Errorf("%s has admittance %v at %v Hz, which no passive wall has", face.Wall(), w[face], f)
		}
	}
	return nil
}

// prepare sets up what does not depend on the places.
func (e *Engine) prepare(m method, s Settings) error {
	var ok bool
	if e.reach, ok = newReach(&e.box, some(e.grid), s.Decay, s.MaxLength); !ok {
		return ErrNoDecay
	}
	rate := m.oversampling * 2 * e.grid[len(e.grid)-1]
	b := newBands(&e.box, e.grid, e.reach.Length, m.bandError)
	e.spreader = spreader{
		kernel: newKernel(m.width, m.oversampling, m.rows), bands: b,
		length: e.reach.Length, perMetre: rate / e.box.Air.Speed,
	}
	if m.tableError > 0 {
		e.spreader.tables = newTables(&e.box, b, e.reach.Length, m.tableError)
	}
	e.plan = newPlan(&e.spreader, e.box.Air, e.grid, m.fading)
	e.work.New = func() any {
		return &workspace{series: e.spreader.newSeries(), scratch: make([]float64, e.spreader.samples())}
	}
	return nil
}

// Name implements [model.Engine].
func (e *Engine) Info() model.EngineInfo { return model.EngineInfo{Kind: model.ImageEngine} }

// Grid implements [model.Engine].
func (e *Engine) Grid() model.Grid { return e.grid }

// Air implements [model.Engine].
func (e *Engine) Air() model.Air { return e.box.Air }

// Field returns the field of a seat in the box as a [Field].
func (e *Engine) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	if !e.box.Contains(seat) {
		return nil, fmt.Errorf("image: seat at %.3f, %.3f, %.3f m is outside the room", seat.X, seat.Y, seat.Z)
	}
	return &Field{engine: e, seat: e.box.Clamp(seat)}, nil
}

// Above these the comparison with exact solutions (see the package's tests) went
// beyond the errors that the general warning states.
const (
	muchAbsorbing = 0.1  // Re β
	muchYielding  = 0.03 // |Im β|
)

// Warnings implements [model.Engine]. The figures in them are what the tests of
// this package find against exact solutions of a box of 5 x 4 x 2.5 m.
func (e *Engine) Warnings() []model.Warning {
	var list []model.Warning
	if e.reach.Remaining > e.wanted+0.1 {
		list = append(list, model.ImageSumEnds{Length: e.reach.Length, Remaining: e.reach.Remaining, Wanted: e.wanted})
	}
	absorbing, at, re := e.most(func(beta complex128) float64 { return real(beta) })
	yielding, of, im := e.most(func(beta complex128) float64 { return math.Abs(imag(beta)) })
	if re > 0 || im > 0 {
		list = append(list, model.Remark("mirror images reflect as if every wave were plane, which is not exact where walls absorb: single resonances come out up to 4 dB too low, other frequencies are off by about 1 dB"))
	}
	if re > muchAbsorbing {
		list = append(list, model.ImagesAbsorb{Wall: absorbing.Wall(), Admittance: re, Frequency: at})
	}
	if im > muchYielding {
		list = append(list, model.ImagesYield{Wall: yielding.Wall(), Admittance: im, Frequency: of})
	}
	return list
}

// most returns the face and the frequency in Hz at which a figure taken from β is
// greatest, and that figure.
func (e *Engine) most(figure func(beta complex128) float64) (face model.Face, f, value float64) {
	for _, at := range e.grid {
		w := wallsAt(&e.box, at)
		for i, beta := range w {
			if v := figure(beta); v > value {
				face, f, value = model.Face(i), at, v
			}
		}
	}
	return face, f, value
}
