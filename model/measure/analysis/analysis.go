package analysis

import (
	"fmt"
	"math"
	"sort"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/decay"
	"evenbass/model/measure/resonance"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
)

// Analysis is what is read off one measurement, or off a prediction for comparing. Levels are re
// the measurement's own reference; those of a prediction are the room gain.
type Analysis struct {
	Measurement *measure.Measurement // nil of a prediction
	Flat        bool                 // of a prediction: for speakers that play any bass
	Goal        model.Goal           // as asked, its band cut to what the data cover
	Cut         bool                 // the data do not cover the whole band that was asked for
	Grid        model.Grid           // of the curves
	Raw         []model.Level
	Curve       []model.Level // smoothed
	Noise       []model.Level // by frequency; nil is not known
	Figures     response.Figures
	Card        response.Card
	Features    []response.Feature // dips and peaks of 6 dB or more, the most prominent first

	// Of an impulse response; nil else.
	Decays []decay.Band
	Modes  []resonance.Mode
	Fading *spectraldecay.Map
	Window Window

	transfer []complex128
	air      model.Air
	channel  response.Channel
	falls    []response.Decay // by the recipe of predictions; nil is not known
}

// Window is the part of an impulse response that levels are read from.
type Window struct {
	From, To   int // samples, half open
	Start, End float64
}

// least is how far a dip or a peak must stand out to be listed, dB.
const least = 6

// New analyses a measurement. It fails if the measurement is not usable, or if it covers less
// than an octave of the goal's band.
func New(m *measure.Measurement, goal model.Goal) (*Analysis, error) {
	if err := m.Check(); err != nil {
		return nil, err
	}
	a := &Analysis{Measurement: m, Goal: goal}
	source := m
	if m.Impulse != nil {
		if err := a.readTime(); err != nil {
			return nil, err
		}
		windowed := *m
		windowed.Impulse = a.Window.cut(m.Impulse)
		source = &windowed
	}
	a.Grid = source.Grid()
	if a.Goal = source.Covered(goal); len(a.Grid) < 4 || !(a.Goal.To >= 2*a.Goal.From) {
		limits := m.Limits()
		return nil, fmt.Errorf("the data hold from %.4g to %.4g Hz, less than an octave of the goal %v", limits.Min, limits.Max, goal)
	}
	a.Cut = a.Goal != goal
	p, err := source.Transfer(a.Grid, m.Air())
	if err != nil {
		return nil, err
	}
	a.transfer, a.air, a.channel, a.falls = p, m.Air(), channel(m.Speaker), fall(source)
	a.read()
	a.Noise = a.noise()
	return a, nil
}

// Predict returns the same figures of a prediction: the transfer of a channel in Pa·s/m³ over an
// engine's grid. A second transfer over [response.DecayGrid] gives the decays and how long tones
// stay; nil leaves them out. It panics if the lengths differ.
func Predict(c response.Channel, grid model.Grid, p, overDecays []complex128, air model.Air, goal model.Goal) *Analysis {
	a := &Analysis{Goal: goal, Grid: grid, transfer: p, air: air, channel: c}
	if overDecays != nil {
		a.falls = response.NewDecayReader().Read(overDecays)
		signal, err := spectraldecay.Transfer(response.DecayGrid(), overDecays, air)
		if err != nil {
			panic(err) // the grid is even
		}
		a.Fading = spectraldecay.New(signal, spectraldecay.Settings{Long: 1})
	}
	a.read()
	return a
}

// Recut returns the analysis for another goal, whose band the data cover.
func (a *Analysis) Recut(goal model.Goal) *Analysis {
	b := *a
	b.Goal = goal
	b.read()
	return &b
}

// read reads levels and figures.
func (a *Analysis) read() {
	r := response.NewReader(a.Grid, a.air, a.Goal)
	a.Raw, a.Curve, a.Figures = r.Raw(a.transfer), r.Smooth(a.transfer), r.Read(a.transfer)
	a.Card = r.ChannelCard(a.channel, a.transfer, a.falls)
	a.Features = r.Features(a.channel, a.transfer, least)
}

// channel returns what a card calls the speaker that played.
func channel(s model.Source) response.Channel {
	switch s {
	case model.LeftSpeaker:
		return response.LeftAlone
	case model.RightSpeaker:
		return response.RightAlone
	}
	return response.BothTogether
}

// fall returns the decays by the recipe of predictions, nil if the data do not cover it.
func fall(m *measure.Measurement) []response.Decay {
	grid := response.DecayGrid()
	if m.Impulse == nil || len(m.Within(grid)) < len(grid) {
		return nil
	}
	p, err := m.Transfer(grid, m.Air())
	if err != nil {
		return nil
	}
	return response.NewDecayReader().Read(p)
}

// An impulse response at a lower rate in Hz, or that ends sooner after the sound begins, in s, tells
// levels alone.
const (
	slowest  = 1000.0
	briefest = 0.25
)

// readTime reads what needs an impulse response.
func (a *Analysis) readTime() error {
	im := a.Measurement.Impulse
	begin := decay.Onset(im.Samples)
	if im.Rate < slowest || float64(len(im.Samples)-begin) < briefest*im.Rate {
		a.Window = newWindow(im, begin, nil)
		return nil
	}
	decays, err := decay.Read(im.Samples, im.Rate, begin)
	if err != nil {
		return err
	}
	a.Decays = a.covered(decays)
	a.Window = newWindow(im, begin, decays)
	signal, err := spectraldecay.Impulse(im.Samples[:a.Window.To], im.Rate, begin)
	if err != nil {
		return err
	}
	a.Fading = spectraldecay.New(signal, spectraldecay.Settings{Long: 1})
	if known := a.Measurement.NoiseLevels(a.Fading.Grid); known != nil {
		a.Fading.Noise = known
	}
	from, to := max(20, a.Measurement.Limits().Min), min(300, a.Measurement.Limits().Max)
	if float64(len(im.Samples)-begin) < 0.5*im.Rate || to < from+20 {
		return nil // too short for modes
	}
	a.Modes, err = resonance.Find([]resonance.Response{{Samples: im.Samples, Begin: begin}}, im.Rate, resonance.Settings{From: from, To: to})
	return err
}

// covered returns the third octaves that lie within what the data cover.
func (a *Analysis) covered(decays []decay.Band) []decay.Band {
	limits := a.Measurement.Limits()
	var list []decay.Band
	for _, d := range decays {
		if half := math.Pow(10, 0.05); d.Centre/half > limits.Min*0.98 && d.Centre*half < limits.Max*1.02 {
			list = append(list, d)
		}
	}
	return list
}

// Blunted returns the frequency in Hz below which an impulse response ends too soon for the goal's smoothing; 0
// if it lasts. The spectrum of T seconds is smoothed over about 1/T, by its very definition.
func (a *Analysis) Blunted() float64 {
	if a.Measurement == nil || a.Measurement.Impulse == nil {
		return 0
	}
	half := 0.5 / float64(a.Goal.Smoothing)
	if f := 1 / a.Window.End / (math.Exp2(half) - math.Exp2(-half)); f > a.Goal.From {
		return f
	}
	return 0
}

// Brief warns of an impulse response that ends too soon.
func (a *Analysis) Brief() []model.Warning {
	if f := a.Blunted(); f > 0 {
		return []model.Warning{model.ResponseBrief{Long: a.Window.End, Below: f}}
	}
	return nil
}

// At returns a curve over the grid at another frequency, straight over lg f.
func (a *Analysis) At(curve []model.Level, f float64) model.Level {
	i := max(0, min(len(a.Grid)-2, sort.SearchFloat64s(a.Grid, f)-1))
	share := math.Log(f/a.Grid[i]) / math.Log(a.Grid[i+1]/a.Grid[i])
	return curve[i] + model.Level(max(0, min(1, share)))*(curve[i+1]-curve[i])
}
