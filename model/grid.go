package model

import (
	"fmt"
	"math"
)

// Grid is a list of frequencies in Hz, ascending, all above zero.
type Grid []float64

// NewGrid returns frequencies from one limit to the other, both included. Steps
// are 1/perOctave octave, but never wider than maxStep in Hz (0 for no such
// limit): a room's resonance is a few hertz wide at any frequency, so a grid
// that is even in octaves would step over the upper ones.
//
// It panics if the limits are not 0 < from < to or perOctave is not positive.
func NewGrid(from, to float64, perOctave int, maxStep float64) Grid {
	if !(from > 0 && to > from) || perOctave <= 0 {
		panic(fmt.Sprintf("model: grid from %v to %v with %d per octave", from, to, perOctave))
	}
	ratio := math.Exp2(1 / float64(perOctave))
	var g Grid
	for f := from; f < to*(1-1e-9); {
		g = append(g, f)
		next := f * ratio
		if maxStep > 0 && next-f > maxStep {
			next = f + maxStep
		}
		f = next
	}
	return append(g, to)
}

// DefaultGrid runs from 20 to 315 Hz in steps of 1/48 octave or 2 Hz, whichever
// is finer: 224 frequencies.
func DefaultGrid() Grid { return NewGrid(20, 315, 48, 2) }

// Nearest returns the index of the frequency nearest to f.
func (g Grid) Nearest(f float64) int {
	best := 0
	for i := range g {
		if math.Abs(g[i]-f) < math.Abs(g[best]-f) {
			best = i
		}
	}
	return best
}
