package calibration

import (
	"context"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
)

// accuracy bounds what sums over modes leave out, relative to the direct sound.
const accuracy = 1e-3

// predictor computes what the microphones would hear.
type predictor struct {
	project *model.Project
	data    *data
	grid    model.Grid // the lower part of the data's while the fit begins
	walls   [6]*surface.Scale
	level   float64 // dB; where the prior of the gain is centred
	delay   float64 // s; the same of the delay
	phases  bool    // complex residuals where the data have phases; else levels
	mixed   bool    // an opening shares a wall, which then has to be put together anew
}

func newPredictor(p *model.Project, d *data) (*predictor, error) {
	out := &predictor{project: p, data: d, grid: d.grid, mixed: len(p.Room.Openings) > 0}
	for _, f := range model.Faces {
		var err error
		if out.walls[f], err = surface.NewScale(f.Wall(), p.Room.Walls[f]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// box returns the room of a vector.
func (p *predictor) box(v vector) (model.Box, error) {
	room := p.project.Room
	room.Calibration = nil
	if room.Temperature == 0 {
		room.Temperature = model.ReferenceTemperature
	}
	room.Temperature += v.value(atTemperature)
	box := model.Box{Air: room.Air()}
	if p.mixed {
		for _, f := range model.Faces {
			room.Walls[f].Fit = v.fit(f)
			room.Walls[f].Fit.Shift.Deviation = 1 // so that it counts
		}
		var err error
		if box, _, err = surface.Box(&room, 0); err != nil {
			return box, err
		}
	} else {
		for _, f := range model.Faces {
			box.Walls[f] = p.walls[f].Fitted(v.fit(f), 0)
		}
	}
	box.Size = r3.Add(room.Size, v.point(atSize))
	return box, nil
}

func (p *predictor) engine(v vector) (*mode.Engine, model.Box, error) {
	box, err := p.box(v)
	if err != nil {
		return nil, box, err
	}
	e, err := mode.New(box, p.grid, mode.Settings{Accuracy: accuracy})
	return e, box, err
}

// heard is what arrives at a seat from the left and the right speaker, as a response re the free
// field at 1 m.
type heard [2][]complex128

// hear returns what arrives at a seat.
func (p *predictor) hear(e *mode.Engine, box model.Box, v vector, seat int) (h heard, err error) {
	field, err := e.Field(context.Background(), inside(r3.Add(p.data.seats[seat].at, v.point(atSeats+3*seat)), box.Size))
	if err != nil {
		return h, err
	}
	s := &p.project.Speakers
	for i, at := range [2]r3.Vec{s.Left, s.Right} {
		h[i] = field.Transfer(nil, inside(r3.Add(at, v.point(atSpeakers+3*i)), box.Size))
		for k, f := range p.grid {
			h[i][k] /= complex(0, f*box.Air.Density/2)
		}
	}
	return h, nil
}

// hearAll returns what arrives at all seats.
func (p *predictor) hearAll(e *mode.Engine, box model.Box, v vector) ([]heard, error) {
	list := make([]heard, len(p.data.seats))
	for i := range list {
		var err error
		if list[i], err = p.hear(e, box, v, i); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// inside returns a place moved into a room.
func inside(at, size r3.Vec) r3.Vec {
	const gap = 0.02 // m
	into := func(x, most float64) float64 { return max(gap, min(most-gap, x)) }
	return r3.Vec{X: into(at.X, size.X), Y: into(at.Y, size.Y), Z: into(at.Z, size.Z)}
}

// response returns what a measurement would hold; where the predictor's grid ends before the
// measurement does, what it holds.
func (p *predictor) response(v vector, list []heard, measurement int) []complex128 {
	d := &p.data.list[measurement]
	h := make([]complex128, len(d.h))
	from, roll := list[d.seat], p.project.Speakers.RollOff()
	for i := range h {
		if d.first+i >= len(p.grid) {
			h[i] = d.h[i]
			continue
		}
		f := p.grid[d.first+i]
		if d.speaker != model.RightSpeaker {
			h[i] += from[0][d.first+i] * p.gain(v, f, 1, measurement, roll)
		}
		if d.speaker != model.LeftSpeaker {
			h[i] += from[1][d.first+i] * p.gain(v, f, -1, measurement, roll)
		}
	}
	return h
}

// residuals returns those of all measurements.
func (p *predictor) residuals(v vector, list []heard) []float64 {
	var r []float64
	for i := range p.data.list {
		r = p.data.list[i].residuals(r, p.response(v, list, i), p.phases)
	}
	return r
}

// gain returns the factor of a speaker at a frequency in Hz in one measurement: level, delay and
// roll-off. Side is +1 for the left speaker and -1 for the right one.
func (p *predictor) gain(v vector, f float64, side, measurement int, roll model.RollOff) complex128 {
	level := p.level + v.value(atGain) + v.value(v.atMeasurements()+measurement) + float64(side)*v.value(atBalance)/2
	delay := p.delay + v.value(atDelay) + float64(side)*v.value(atApart)/2
	sin, cos := math.Sincos(-2 * math.Pi * f * delay)
	h := complex(model.Level(level).Ratio(), 0) * complex(cos, sin)
	if roll.Limit > 0 {
		roll.Limit *= math.Exp(v.value(atCorner))
		h *= roll.Response(f)
	}
	return h
}

// settle centres the priors of gain and delay, which are arbitrary: on the mean level, and on the delay
// within 30 ms with which the predicted pressures look most like the measured ones.
func (p *predictor) settle(v vector, list []heard) {
	var levels, n float64
	for i := range p.data.list {
		d := &p.data.list[i]
		for k, l := range smoothed(d.smoother, p.response(v, list, i)) {
			levels, n = levels+float64(d.levels[k]-l), n+1
		}
	}
	p.level += levels / n
	var best, more float64
	for delay := -0.030; delay <= 0.030; delay += 0.0002 {
		var like float64
		for i := range p.data.list {
			d := &p.data.list[i]
			if !d.complex {
				continue
			}
			for k, h := range p.response(v, list, i) {
				turn := cmplx.Rect(d.scale[k]*d.scale[k], -2*math.Pi*p.grid[d.first+k]*delay)
				like += real(h * turn * cmplx.Conj(d.h[k]))
			}
		}
		if like > best {
			best, more = like, delay
		}
	}
	p.delay += more
}
