package calibration

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/response"
)

// The band that is fitted, Hz. Above it, errors of a few centimetres and the furniture dominate.
const (
	lowest  = 20.0
	highest = 225.0
)

// How the responses are compared. The errors are our own estimates, no source; the residuals show
// if they are too low.
const (
	pointsPerOctave = 24
	widestStep      = 2.5  // Hz
	levelSmoothing  = 6    // octave fraction
	levelError      = 1.2  // dB at one frequency
	complexError    = 0.15 // of the level smoothed over 1/3 octave
	leastOctaves    = 1.5  // that a measurement must cover
)

// place is where a microphone stood, by the room file.
type place struct {
	name string
	at   r3.Vec
}

// datum is one measurement as it is fitted.
type datum struct {
	name     string
	seat     int
	speaker  model.Source
	complex  bool
	first    int // of the grid's frequencies that it covers
	h        []complex128
	scale    []float64 // 1/σ of complex residuals
	levels   []model.Level
	smoother *response.Smoother
}

// data is all that is fitted.
type data struct {
	grid   model.Grid
	seats  []place
	list   []datum
	unused []model.Warning
}

// ErrNoData says that no measurement can be used.
var ErrNoData = errors.New("no measurement that can be fitted")

// newData prepares measurements.
func newData(p *model.Project, list []*measure.Measurement) (*data, error) {
	d := &data{grid: model.NewGrid(lowest, highest, pointsPerOctave, widestStep)}
	var why []error
	for _, m := range list {
		if err := d.add(p, m); err != nil {
			d.unused = append(d.unused, model.MeasurementUnused{Name: m.Name, Why: err.Error()})
			why = append(why, fmt.Errorf("%s is not used: %w", m.Name, err))
		}
	}
	if len(d.list) == 0 {
		return d, fmt.Errorf("%w: %w", ErrNoData, errors.Join(why...))
	}
	return d, nil
}

func (d *data) add(p *model.Project, m *measure.Measurement) error {
	if m.Speaker != model.LeftSpeaker && m.Speaker != model.RightSpeaker && m.Speaker != model.BothSpeakers {
		return fmt.Errorf("%v played; left, right and both can be fitted", m.Speaker)
	}
	at, err := d.placeOf(p, m)
	if err != nil {
		return err
	}
	grid := m.Within(d.grid)
	if len(grid) < 2 || math.Log2(grid[len(grid)-1]/grid[0]) < leastOctaves {
		return fmt.Errorf("it covers less than %g octaves between %g and %g Hz", leastOctaves, d.grid[0], d.grid[len(d.grid)-1])
	}
	h, err := m.Response(grid)
	if err != nil {
		return err
	}
	one := datum{name: m.Name, seat: d.seat(at), speaker: m.Speaker, complex: m.HasTime(), h: h, first: d.grid.Nearest(grid[0]), smoother: response.NewSmoother(grid, levelSmoothing)}
	one.take(h, response.NewSmoother(grid, 3), m.NoiseLevels(grid))
	d.list = append(d.list, one)
	return nil
}

// take gives a datum its response, with the noise if that is known.
func (d *datum) take(h []complex128, coarse *response.Smoother, noise []model.Level) {
	d.h, d.levels, d.scale = h, smoothed(d.smoother, h), nil
	for i, level := range smoothed(coarse, h) {
		sigma := complexError * level.Ratio()
		if noise != nil && !math.IsNaN(float64(noise[i])) {
			sigma = math.Hypot(sigma, noise[i].Ratio())
		}
		d.scale = append(d.scale, 1/sigma)
	}
}

// placeOf returns where a microphone stood.
func (d *data) placeOf(p *model.Project, m *measure.Measurement) (place, error) {
	out := place{name: m.Seat, at: m.At}
	if m.Placed {
		return out, nil
	}
	seat, ok := p.SeatOf(&model.Measured{Seat: m.Seat})
	if !ok || !seat.Placed {
		return out, errors.New("the place of the microphone is not known")
	}
	return place{seat.Name, seat.At}, nil
}

// seat returns the number of a place, which is added if it is new.
func (d *data) seat(at place) int {
	for i, s := range d.seats {
		if s == at {
			return i
		}
	}
	d.seats = append(d.seats, at)
	return len(d.seats) - 1
}

// smoothed returns the levels of a response.
func smoothed(s *response.Smoother, h []complex128) []model.Level {
	power := make([]float64, len(h))
	for i, v := range h {
		a := cmplx.Abs(v)
		power[i] = a * a
	}
	levels := make([]model.Level, len(h))
	for i, v := range s.Power(make([]float64, len(h)), power) {
		levels[i] = model.PowerLevel(v)
	}
	return levels
}

// residuals appends those of a predicted response.
func (d *datum) residuals(list []float64, h []complex128, phases bool) []float64 {
	if d.complex && phases {
		for i, v := range h {
			r := (v - d.h[i]) * complex(d.scale[i], 0)
			list = append(list, real(r), imag(r))
		}
		return list
	}
	for i, v := range smoothed(d.smoother, h) {
		list = append(list, float64(v-d.levels[i])/levelError)
	}
	return list
}

// differences returns by how much a predicted level lies above the measured one, the mean taken out.
func (d *datum) differences(h []complex128) []model.Level {
	list := smoothed(d.smoother, h)
	var mean model.Level
	for i := range list {
		list[i] -= d.levels[i]
		mean += list[i] / model.Level(len(list))
	}
	for i := range list {
		list[i] -= mean
	}
	return list
}

// phases reports whether any measurement has phases that count.
func (d *data) phases() bool {
	return slices.ContainsFunc(d.list, func(one datum) bool { return one.complex })
}
