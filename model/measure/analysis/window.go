package analysis

import (
	"math"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/decay"
	"evenbass/model/response"
)

// The window about the sound, s.
const (
	ahead    = 0.3
	behind   = 0.2
	shortest = 1.0
	fadeOut  = 0.1
)

// newWindow returns the window of an impulse response whose sound begins at a sample.
func newWindow(im *measure.Impulse, begin int, decays []decay.Band) Window {
	long := shortest
	for _, d := range decays {
		switch {
		case d.Cut:
			long = math.Inf(1) // every sample is sound
		case d.Range >= 25:
			long = max(long, d.Truncated+behind)
		}
	}
	w := Window{From: max(0, begin-int(ahead*im.Rate))}
	w.To = int(min(float64(len(im.Samples)), float64(begin)+long*im.Rate))
	w.Start, w.End = float64(w.From-begin)/im.Rate, float64(w.To-begin)/im.Rate
	return w
}

// cut returns the part of an impulse response within the window, faded out at its end.
func (w Window) cut(im *measure.Impulse) *measure.Impulse {
	c := *im
	c.Samples = append([]float64{}, im.Samples[w.From:w.To]...)
	c.Zero = im.Zero - float64(w.From)
	n := min(int(fadeOut*im.Rate), len(c.Samples))
	for i := range n {
		c.Samples[len(c.Samples)-1-i] *= (1 - math.Cos(math.Pi*float64(i)/float64(n))) / 2
	}
	return &c
}

// noise returns the level of the noise over the grid, smoothed to a third octave: as the
// measurement says, or read off what follows the window.
func (a *Analysis) noise() []model.Level {
	if known := a.Measurement.NoiseLevels(a.Grid); known != nil {
		return known
	}
	im := a.Measurement.Impulse
	if im == nil || float64(len(im.Samples)-a.Window.To) < 0.2*im.Rate {
		return nil
	}
	rest := measure.Impulse{Samples: im.Samples[a.Window.To:], Rate: im.Rate}
	power := make([]float64, len(a.Grid))
	share := float64(a.Window.To-a.Window.From) / float64(len(rest.Samples))
	for i, h := range rest.Response(a.Grid) {
		power[i] = (real(h)*real(h) + imag(h)*imag(h)) * share
	}
	list := make([]model.Level, len(a.Grid))
	for i, p := range response.NewSmoother(a.Grid, 3).Power(make([]float64, len(power)), power) {
		list[i] = model.PowerLevel(p)
	}
	return list
}
