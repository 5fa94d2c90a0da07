package calibration

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// The prior standard deviations of what is fitted. Our own estimates, no source.
const (
	shiftDeviation       = 0.6  // of a wall; nine tenths lie within the construction's range
	slopeDeviation       = 0.4  // per octave
	curveDeviation       = 0.3  // per octave squared
	strayDeviation       = 0.2  // by which a wall strays from any such curve over lg f; stays unknown
	wallsAlike           = 0.5  // correlation of two walls, since tables err alike
	sizeDeviation        = 0.02 // m
	temperatureDeviation = 2.0  // K
	woolDeviation        = 0.25 // of the natural logarithm of the flow resistivity
	cornerDeviation      = 0.25 // of ln Hz
	gainDeviation        = 10.0 // dB; the reference of a measurement is arbitrary
	balanceDeviation     = 1.5  // dB, left against right
	delayDeviation       = 1e-3 // s, of everything before the speakers
	apartDeviation       = 1e-4 // s, left against right
	speakerDeviation     = 0.04 // m, each axis
	seatDeviation        = 0.06 // m, on plan
	earsDeviation        = 0.04 // m, height
	retouchDeviation     = 0.5  // dB, of one measurement against the others
)

// Where the unknowns stand in a vector. Seats follow with three each, then measurements with one.
const (
	atShift       = 0
	atSlope       = 6
	atCurve       = 12
	atSize        = 18
	atTemperature = 21
	atWool        = 22
	atSpeakers    = 23 // left, then right
	atCorner      = 29
	atGain        = 30
	atBalance     = 31
	atDelay       = 32
	atApart       = 33
	atSeats       = 34
)

// unknowns says what a vector of unknowns holds, in deviations from the prior means.
type unknowns struct {
	seats, measurements int
}

func (n unknowns) len() int { return atSeats + 3*n.seats + n.measurements }

func (n unknowns) atMeasurements() int { return atSeats + 3*n.seats }

// deviation returns the prior standard deviation of an unknown, in SI units or dB.
func (n unknowns) deviation(k int) float64 {
	switch {
	case k < atSlope:
		return shiftDeviation
	case k < atCurve:
		return slopeDeviation
	case k < atSize:
		return curveDeviation
	case k < atTemperature:
		return sizeDeviation
	case k >= n.atMeasurements():
		return retouchDeviation
	case k >= atSeats && (k-atSeats)%3 == 2:
		return earsDeviation
	case k >= atSeats:
		return seatDeviation
	}
	switch k {
	case atTemperature:
		return temperatureDeviation
	case atWool:
		return woolDeviation
	case atCorner:
		return cornerDeviation
	case atGain:
		return gainDeviation
	case atBalance:
		return balanceDeviation
	case atDelay:
		return delayDeviation
	case atApart:
		return apartDeviation
	}
	return speakerDeviation
}

// precision returns R⁻¹.
func (n unknowns) precision() *mat.SymDense {
	correlation := mat.NewSymDense(n.len(), nil)
	for i := range n.len() {
		correlation.SetSym(i, i, 1)
		for j := range i {
			if i < atSize && i/6 == j/6 {
				correlation.SetSym(i, j, wallsAlike)
			}
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(correlation) {
		panic("calibration: the prior has no inverse")
	}
	out := mat.NewSymDense(n.len(), nil)
	if err := chol.InverseTo(out); err != nil {
		panic("calibration: " + err.Error())
	}
	return out
}

// vector is a value for all unknowns, in deviations.
type vector struct {
	unknowns
	u []float64
}

// value returns an unknown in its own unit.
func (v vector) value(k int) float64 { return v.u[k] * v.deviation(k) }

func (v vector) point(k int) r3.Vec {
	return r3.Vec{X: v.value(k), Y: v.value(k + 1), Z: v.value(k + 2)}
}

// with returns a copy with one unknown moved.
func (v vector) with(k int, by float64) vector {
	u := append([]float64(nil), v.u...)
	u[k] += by
	return vector{v.unknowns, u}
}

// state returns the room of a vector.
func (v vector) state() State {
	s := State{Size: v.point(atSize), Temperature: v.value(atTemperature), Resistivity: math.Exp(v.value(atWool))}
	for _, f := range model.Faces {
		s.Walls[f] = v.fit(f)
	}
	return s
}

// fit returns what the vector says of a wall, without deviations but that it counts as fitted.
func (v vector) fit(f model.Face) model.WallFit {
	k := int(f)
	return model.WallFit{
		Shift: model.Fitted{Value: v.value(atShift + k), Deviation: 1},
		Slope: model.Fitted{Value: v.value(atSlope + k)},
		Curve: model.Fitted{Value: v.value(atCurve + k)},
	}
}
