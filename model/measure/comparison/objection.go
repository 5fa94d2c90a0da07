package comparison

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/decay"
)

// Matter is what an objection is about.
type Matter int

// The matters.
const (
	SpeakerDiffers   Matter = iota // another speaker played
	SeatDiffers                    // another seat
	Moved                          // Amount: m between the microphone's places
	Later                          // Amount: s that the sound arrives later after; both have a time reference
	SmoothingDiffers               // Amount: octave fraction of the coarser one
	SmoothingUnknown               // of a table
	RowsCoarse                     // Amount: widest step of a table, octaves
	Brief                          // Amount: Hz below which a response that ends too soon is blunted
	BandCut                        // the data do not cover the goal's band
	LevelOff                       // Amount: dB between the mean levels, which were aligned
	Noisy                          // Amount: share of the band in which noise is within 10 dB
	Warmer                         // Amount: K, after less before
	TemperatureUnknown
	StateUnknown
	PlaceUnknown
	RollOff // a prediction is for speakers that play any bass
)

// Weight is how much an objection counts.
type Weight int

// The weights.
const (
	Note   Weight = iota // good to know
	Doubt                // figures may be off
	Unfair               // two different things are compared
)

// Objection is one reason why two states do not compare well.
type Objection struct {
	Matter Matter
	Weight Weight
	Amount float64
}

// Fair reports whether the same thing was measured twice.
func (c *Comparison) Fair() bool {
	return !slices.ContainsFunc(c.Objections, func(o Objection) bool { return o.Weight == Unfair })
}

// object looks for all objections that follow from the data.
func (c *Comparison) object() []Objection {
	a, b := c.Before.Measurement, c.After.Measurement
	var list []Objection
	add := func(m Matter, w Weight, amount float64) { list = append(list, Objection{m, w, amount}) }
	if c.Before.Cut || c.After.Cut {
		add(BandCut, Note, 0)
	}
	for _, side := range []*measure.Measurement{a, b} {
		if side != nil {
			objectToTable(side.Table, side.Doubts(), c.Goal, add)
		}
	}
	if below := max(c.Before.Blunted(), c.After.Blunted()); below > 0 {
		add(Brief, Doubt, below)
	}
	if share := max(c.noisy(true), c.noisy(false)); share > 0.02 {
		add(Noisy, weigh(share > 0.2), share)
	}
	switch {
	case a != nil && b != nil:
		c.objectToPair(a, b, add)
	case c.Before.Flat || c.After.Flat:
		add(RollOff, Note, 0)
	}
	slices.SortStableFunc(list, func(x, y Objection) int { return cmp.Compare(y.Weight, x.Weight) })
	return slices.CompactFunc(list, func(x, y Objection) bool { return x.Matter == y.Matter })
}

func weigh(bad bool) Weight {
	if bad {
		return Doubt
	}
	return Note
}

// objectToTable looks at what a table may hide.
func objectToTable(t *measure.Table, d measure.Doubt, goal model.Goal, add func(Matter, Weight, float64)) {
	if t == nil {
		return
	}
	switch {
	case d&measure.SmoothingUnknown != 0:
		add(SmoothingUnknown, Doubt, 0)
	case t.Smoothing != 0 && t.Smoothing < goal.Smoothing:
		add(SmoothingDiffers, Doubt, float64(t.Smoothing))
	}
	if step := t.WidestStep(model.Range{Min: goal.From, Max: goal.To}); step > 1/float64(goal.Smoothing) {
		add(RowsCoarse, Doubt, step)
	}
}

// How far two measurements may be apart before an objection reports it.
const (
	movedNote   = 0.02 // m
	movedDoubt  = 0.10 // m: levels then change by 1.3 dB on average
	laterNote   = 1e-3 // s, 34 cm: what bass alone can tell
	laterDoubt  = 2e-3
	levelNote   = 1.0 // dB
	levelDoubt  = 6.0
	warmerNote  = 3.0 // K: half a per cent in every mode
	warmerDoubt = 8.0
)

// objectToPair looks for differences between two measurements.
func (c *Comparison) objectToPair(a, b *measure.Measurement, add func(Matter, Weight, float64)) {
	if a.Speaker != b.Speaker && a.Speaker != 0 && b.Speaker != 0 {
		add(SpeakerDiffers, Unfair, 0)
	}
	if a.Seat != b.Seat && a.Seat != "" && b.Seat != "" {
		add(SeatDiffers, Unfair, 0)
	}
	unknown := a.Doubts() | b.Doubts()
	switch {
	case a.Placed && b.Placed:
		if d := r3.Norm(r3.Sub(b.At, a.At)); d > movedNote {
			add(Moved, weigh(d > movedDoubt), d)
		}
	case unknown&measure.PlaceUnknown != 0:
		add(PlaceUnknown, Note, 0)
	}
	if later, ok := c.later(a, b); ok && math.Abs(later) > laterNote {
		add(Later, weigh(math.Abs(later) > laterDoubt), later)
	}
	if d := float64(c.Offset); c.Aligned && math.Abs(d) > levelNote {
		add(LevelOff, weigh(math.Abs(d) > levelDoubt), d)
	}
	if a.Temperature > 0 && b.Temperature > 0 {
		if d := b.Temperature - a.Temperature; math.Abs(d) > warmerNote {
			add(Warmer, weigh(math.Abs(d) > warmerDoubt), d)
		}
	} else {
		add(TemperatureUnknown, Note, 0)
	}
	if unknown&measure.StateUnknown != 0 {
		add(StateUnknown, Note, 0)
	}
}

// later returns by how much the sound arrives later after than before, s; known only where both
// have a time reference, and where both begin suddenly enough.
func (c *Comparison) later(a, b *measure.Measurement) (float64, bool) {
	if a.Impulse == nil || b.Impulse == nil || !a.HasTime() || !b.HasTime() {
		return 0, false
	}
	was, sureBefore := decay.SureOnset(a.Impulse.Samples, a.Impulse.Rate)
	is, sureAfter := decay.SureOnset(b.Impulse.Samples, b.Impulse.Rate)
	return b.Impulse.Time(is) - a.Impulse.Time(was), sureBefore && sureAfter
}

// audibleOver is how far a level must stand above the noise to be off by less than 0.4 dB, dB.
const audibleOver = 10

// noisy returns the share of the band in which noise comes too near.
func (c *Comparison) noisy(before bool) float64 {
	side := c.After
	if before {
		side = c.Before
	}
	if side.Noise == nil {
		return 0
	}
	var near float64
	for _, f := range c.Grid {
		if side.At(side.Curve, f) < side.At(side.Noise, f)+audibleOver {
			near++
		}
	}
	return near / float64(len(c.Grid))
}
