package engines

import (
	"context"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/measure/decay"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/model/wave"
)

// Grid returns the frequencies that the states of a project are solved for: close enough together
// for the slowest decay in any of their rooms with typical walls, see [response.GridFor]. The goal is
// that of the first. A box decays as its modes do. Any other room is run once on coarse cells; if the
// context ends before that, it counts as the box around it.
func Grid(ctx context.Context, states ...*model.Project) model.Grid {
	slowest := make([]func(f float64) float64, len(states))
	for i, p := range states {
		slowest[i] = SlowestDecay(ctx, p)
	}
	return response.GridFor(states[0].Goal, func(f float64) float64 {
		var t float64
		for _, decay := range slowest {
			t = max(t, decay(f))
		}
		return t
	})
}

// BoxGrid is Grid for a box.
func BoxGrid(box *model.Box, goal model.Goal) model.Grid {
	return response.GridFor(goal, func(f float64) float64 { return min(mode.SlowestDecay(box, f), LongestDecay) })
}

// SlowestDecay returns the slowest decay time of a project's room by frequency, s.
func SlowestDecay(ctx context.Context, p *model.Project) func(f float64) float64 {
	if Irregular(&p.Room) != "" {
		if bands := runForDecay(ctx, p); bands != nil {
			return func(f float64) float64 { return bands.nearest(f) }
		}
	}
	box, _, err := surface.Box(&p.Room, material.Typical)
	if err != nil {
		return func(float64) float64 { return 0 } // the engine says what is wrong with the room
	}
	return func(f float64) float64 { return min(mode.SlowestDecay(&box, f), LongestDecay) }
}

// The run for decay times. On cells of 0.25 m they are within a fifth of those on 0.14 m,
// in three demo rooms. Steps of 0.1 Hz hold ten seconds of sound.
const (
	decayCell = 0.25 // m
	decayStep = 0.1  // Hz
	decaySize = 16384
	decaySlip = 1.25 // real decays may be this much slower than those of the run
)

// decayTimes are the slowest decays found, by third octave.
type decayTimes []decay.Band

// nearest returns the decay time in s of the third octave nearest to a frequency in Hz.
func (d decayTimes) nearest(f float64) float64 {
	best := 0
	for i := range d {
		if math.Abs(math.Log(d[i].Centre/f)) < math.Abs(math.Log(d[best].Centre/f)) {
			best = i
		}
	}
	return d[best].T30
}

// runForDecay reads the slowest decay of each third octave off one run, from one corner of the room to
// another and to a place where few modes have a node. A mode that avoids the absorbing walls decays far more
// slowly than the mean over all walls suggests. It returns nil if the room cannot be run or the context ends.
func runForDecay(ctx context.Context, p *model.Project) decayTimes {
	var grid model.Grid
	first := int(20 / decayStep)
	for i := range int(320/decayStep) - first {
		grid = append(grid, decayStep*float64(first+i))
	}
	size := p.Room.Size
	places := []r3.Vec{{X: 0.3, Y: 0.3, Z: 0.3}, {X: 0.3 * size.X, Y: 0.45 * size.Y, Z: 0.8 * size.Z}}
	var zones []model.Block
	for _, at := range places {
		zones = append(zones, model.Block{Min: at, Max: at})
	}
	room, err := wave.NewRoom(&p.Room, material.Typical, grid, wave.Settings{Cell: decayCell, Zones: zones})
	if err != nil {
		return nil
	}
	field, err := room.Field(ctx, r3.Vec{X: 0.3, Y: size.Y - 0.3, Z: 0.3})
	if err != nil {
		return nil
	}
	var slowest decayTimes
	for _, at := range places {
		half := make([]complex128, decaySize/2+1)
		copy(half[first:], field.Transfer(nil, at))
		bands, err := decay.Read(fourier.NewFFT(decaySize).Sequence(nil, half), decaySize*decayStep, 0)
		if err != nil {
			return nil
		}
		if slowest == nil {
			slowest = make(decayTimes, len(bands))
		}
		for i, b := range bands {
			slowest[i].Centre = b.Centre
			slowest[i].T30 = max(slowest[i].T30, decaySlip*max(b.EDT, b.T20, b.T30))
		}
	}
	return slowest[:len(slowest)-1] // the run ends within the highest band
}
