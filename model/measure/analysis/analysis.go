package analysis

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/decay"
	"evenbass/model/measure/resonance"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
)

// Analysis is what is read off one measurement. Levels are re the measurement's own reference.
type Analysis struct {
	Measurement *measure.Measurement
	Goal        model.Goal // as asked, its band cut to what the data cover
	Cut         bool       // the data do not cover the whole band that was asked for
	Grid        model.Grid // of the curves
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

	reader   *response.Reader
	transfer []complex128
}

// Window is the part of an impulse response that levels are read from.
type Window struct {
	Begin      int // the sample at which the sound begins
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
	a.Grid = source.Within(model.NewGrid(20, 315, 96, 0.5))
	if err := a.cutGoal(); err != nil {
		return nil, err
	}
	air := m.Air()
	p, err := source.Transfer(a.Grid, air)
	if err != nil {
		return nil, err
	}
	a.transfer, a.reader = p, response.NewReader(a.Grid, air, a.Goal)
	a.Raw, a.Curve, a.Figures = a.reader.Raw(p), a.reader.Smooth(p), a.reader.Read(p)
	a.Card = a.reader.ChannelCard(channel(m.Speaker), p, fall(source))
	a.Features = a.reader.Features(channel(m.Speaker), p, least)
	a.Noise = a.noise()
	return a, nil
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

// cutGoal narrows the goal to the grid.
func (a *Analysis) cutGoal() error {
	limits := a.Measurement.Limits()
	if len(a.Grid) < 4 {
		return fmt.Errorf("the measurement holds from %.4g to %.4g Hz; 20 to 315 Hz are looked at", limits.Min, limits.Max)
	}
	first, last := a.Grid[0], a.Grid[len(a.Grid)-1]
	if first > a.Goal.From*(1+1e-9) || last < a.Goal.To*(1-1e-9) {
		a.Cut = true
		a.Goal.From, a.Goal.To = max(a.Goal.From, first), min(a.Goal.To, last)
	}
	if a.Goal.To < 2*a.Goal.From {
		return fmt.Errorf("the measurement holds from %.4g to %.4g Hz: less than an octave of the goal's band", limits.Min, limits.Max)
	}
	return nil
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

// readTime reads what needs an impulse response.
func (a *Analysis) readTime() error {
	im := a.Measurement.Impulse
	begin := decay.Onset(im.Samples)
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

// Compared returns the curve in dB re its own mean in the goal's band.
func (a *Analysis) Compared() []model.Level {
	list := make([]model.Level, len(a.Curve))
	for i, l := range a.Curve {
		list[i] = l - a.Figures.Mean
	}
	return list
}
