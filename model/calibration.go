package model

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Fitted is a figure fitted to measurements, with its standard deviation. A deviation of zero
// means that nothing was fitted.
type Fitted struct{ Value, Deviation float64 }

// Set reports whether the figure was fitted.
func (f Fitted) Set() bool { return f.Deviation > 0 }

// WallFit is how much more or less a wall absorbs than its construction typically does, as
// fitted to measurements. On its scale -1 is as little as is likely of the construction, 0 is
// typical and 1 as much as is likely. The zero value is not fitted.
type WallFit struct {
	Shift Fitted // its mean over the octaves about WallFitFrequency
	Slope Fitted // per octave above that frequency
	Curve Fitted // per octave squared, see At; may be missing
}

// WallFitFrequency is the middle of the range in which single modes tell walls apart, Hz.
const WallFitFrequency = 63.0

// The octaves about [WallFitFrequency] beyond which a [WallFit] is held, since a curve over lg f leads
// astray where no mode was told apart; and the mean square of the octaves between.
const (
	octavesBelow  = -1.5
	octavesAbove  = 1.8
	squareOctaves = 0.9
)

// Set reports whether the wall was fitted.
func (w WallFit) Set() bool { return w.Shift.Set() }

// Basis returns what the slope and the curve are multiplied by at a frequency in Hz, see At.
func (w WallFit) Basis(f float64) (slope, curve float64) {
	x := max(octavesBelow, min(octavesAbove, math.Log2(f/WallFitFrequency)))
	return x, x*x - squareOctaves
}

// At returns the fit at a frequency in Hz: with x octaves above [WallFitFrequency], held between -1.5
// and 1.8, the shift, x times the slope, and x² - 0.9 times the curve.
func (w WallFit) At(f float64) Fitted {
	x, y := w.Basis(f)
	return Fitted{
		w.Shift.Value + w.Slope.Value*x + w.Curve.Value*y,
		math.Hypot(math.Hypot(w.Shift.Deviation, w.Slope.Deviation*x), w.Curve.Deviation*y),
	}
}

// Calibration is what measurements taught about a room, beside the fits of its walls, which are with
// the surfaces.
type Calibration struct {
	From   []string  // the measurements' files
	Seats  int       // at how many seats
	Size   [3]Fitted // length, width, height above those by tape, m
	Before Level     // rms difference of predicted and measured levels, dB
	After  Level

	// Correlation of the errors that are left: of the six walls' shifts by Face, then of the three
	// sizes. The lower triangle without its diagonal, row by row; none is uncorrelated.
	Correlation []float64
}

// FittedFigures is how many figures a [Calibration] correlates.
const FittedFigures = 9

// Correlated returns the correlation of two figures of a calibration, counted from 0.
func (c *Calibration) Correlated(i, j int) float64 {
	switch {
	case i == j:
		return 1
	case len(c.Correlation) == 0:
		return 0
	case i < j:
		i, j = j, i
	}
	return c.Correlation[i*(i-1)/2+j]
}

// TrueSize returns the size of the room as far as is known: by tape, corrected by its calibration.
func (r *Room) TrueSize() r3.Vec {
	if r.Calibration == nil {
		return r.Size
	}
	c := r.Calibration.Size
	return r3.Add(r.Size, r3.Vec{X: c[0].Value, Y: c[1].Value, Z: c[2].Value})
}

// calibration turns what was fitted: the walls' figures and the sizes change places.
func (q quarterTurn) calibration(c *Calibration) *Calibration {
	if c == nil {
		return nil
	}
	out := *c
	out.Size[0], out.Size[1] = c.Size[1], c.Size[0]
	from := [FittedFigures]int{6: 7, 7: 6, 8: 8} // by figure, which it was before
	for _, f := range Faces {
		from[q.face(f)] = int(f)
	}
	out.Correlation = slices.Clone(c.Correlation)
	for i := range FittedFigures {
		for j := range i {
			if len(c.Correlation) > 0 {
				out.Correlation[i*(i-1)/2+j] = c.Correlated(from[i], from[j])
			}
		}
	}
	return &out
}

// The largest figures that a calibration may hold: beyond them the room file is wrong, not the tape.
const (
	largestShift = 6.0
	largestSlope = 4.0
	largestCurve = 3.0
	largestSize  = 0.3 // m
)

// calibration checks what the room file says of a calibration.
func (v *validator) calibration() {
	c := v.p.Room.Calibration
	if c == nil {
		return
	}
	if len(c.From) == 0 {
		v.fail("calibrated.from", "must name the measurements")
	}
	for _, f := range Faces {
		w, path := v.p.Room.Walls[f].Fit, "calibrated.walls."+f.String()
		if !w.Set() {
			continue // an option's new wall, or one that nobody fitted
		}
		v.inRange(path+".shift", w.Shift.Value, -largestShift, largestShift, "")
		v.inRange(path+".slope", w.Slope.Value, -largestSlope, largestSlope, "")
		v.inRange(path+".curve", w.Curve.Value, -largestCurve, largestCurve, "")
	}
	for i, s := range c.Size {
		v.inRange("calibrated."+[...]string{"length", "width", "height"}[i], s.Value, -largestSize, largestSize, "m")
	}
	if n := len(c.Correlation); n != 0 && n != FittedFigures*(FittedFigures-1)/2 {
		v.fail("calibrated.correlation", "must have %d rows of 1 to %d figures", FittedFigures-1, FittedFigures-1)
	}
	for _, r := range c.Correlation {
		if !(math.Abs(r) <= 1) {
			v.fail("calibrated.correlation", "must be -1 to 1, have %.6g", r)
			return
		}
	}
}

// Material returns what a surface is made of, in a word: its construction, or "figures".
func (s Surface) Material() string { return cmp.Or(s.Construction, "figures") }
