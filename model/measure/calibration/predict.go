package calibration

import (
	"context"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// predictor computes what the microphones would record.
type predictor struct {
	project *model.Project
	data    *data
	solver  Solver
	grid    model.Grid // the lower part of the data's while the fit begins
	level   float64    // dB; where the prior of the gain is centred
	delay   float64    // s; the same of the delay
	phases  bool       // complex residuals where the data have phases; else levels
}

// arrivals is what arrives at a seat from the left and the right speaker, as a response re the free
// field at 1 m.
type arrivals [2][]complex128

// respond returns what arrives at a seat.
func (p *predictor) respond(ctx context.Context, room Solved, v vector, seat int) (arrivals, error) {
	s := &p.project.Speakers
	h, err := room.Responses(ctx, r3.Add(p.data.seats[seat].at, v.point(atSeats+3*seat)),
		[2]r3.Vec{r3.Add(s.Left, v.point(atSpeakers)), r3.Add(s.Right, v.point(atSpeakers+3))})
	return arrivals(h), err
}

// respondAll returns what arrives at all seats.
func (p *predictor) respondAll(ctx context.Context, room Solved, v vector) ([]arrivals, error) {
	list := make([]arrivals, len(p.data.seats))
	for i := range list {
		var err error
		if list[i], err = p.respond(ctx, room, v, i); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// response returns what a measurement would hold; where the predictor's grid ends before the
// measurement does, what it holds.
func (p *predictor) response(v vector, list []arrivals, measurement int) []complex128 {
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
func (p *predictor) residuals(v vector, list []arrivals) []float64 {
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
func (p *predictor) settle(v vector, list []arrivals) {
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
