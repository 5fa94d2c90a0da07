package surface

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
)

// RangeDeviations is how many standard deviations a fitted wall lies from its fit at the estimates
// [material.Low] and [material.High]: nine tenths of a normal distribution are between them.
const RangeDeviations = 1.645

// knownWithin is by which ratio the admittance of a surface that the owner described by figures may be
// off, since no construction gives a range. Our own estimate, no source.
const knownWithin = 1.5

// leastRatio is the least ratio of the admittances at two estimates, so that a fit can move every wall.
const leastRatio = 1.15

// mostAdmittance is what a fit raises the admittance to at most, unless the wall has more already: that
// of the best absorber at random incidence, see [material.MaxRandomAbsorption].
const mostAdmittance = 1 / 1.567

// Scale is a wall whose absorption can be shifted between the estimates of its construction and beyond
// them. The logarithm of its admittance is in proportion to the shift on either side of typical, so
// that no shift makes it give out energy.
type Scale struct{ low, typical, high model.Boundary }

// NewScale resolves a surface by all three estimates. The surface's own fit does not count.
func NewScale(name string, s model.Surface) (*Scale, error) {
	s.Fit = model.WallFit{}
	var out Scale
	for _, e := range []struct {
		estimate material.Estimate
		to       *model.Boundary
	}{{material.Low, &out.low}, {material.Typical, &out.typical}, {material.High, &out.high}} {
		var err error
		if *e.to, err = NewResolver(e.estimate).Boundary(name, s); err != nil {
			return nil, err
		}
	}
	return &out, nil
}

// Fitted returns the wall at so many standard deviations from its fit.
func (s *Scale) Fitted(fit model.WallFit, deviations float64) model.Boundary {
	return fittedWall{s, fit, deviations}
}

// admittance returns the wall's admittance at a frequency in Hz with a shift: -1 is low, 0 typical,
// 1 high.
func (s *Scale) admittance(f, shift float64) complex128 {
	typical := s.typical.Admittance(f)
	other := s.high
	if shift < 0 {
		other = s.low
	}
	step := math.Log(knownWithin)
	if ratio := real(other.Admittance(f)) / real(typical); ratio > 0 && ratio != 1 && !math.IsInf(ratio, 0) {
		step = max(math.Log(leastRatio), math.Abs(math.Log(ratio)))
	}
	gain := math.Exp(step * shift)
	if most := max(mostAdmittance, real(typical)); gain*real(typical) > most {
		gain = most / real(typical)
	}
	return typical * complex(gain, 0)
}

// fittedWall is a wall as measurements say.
type fittedWall struct {
	scale      *Scale
	fit        model.WallFit
	deviations float64
}

// Admittance implements [model.Boundary].
func (w fittedWall) Admittance(f float64) complex128 {
	v := w.fit.At(f)
	return w.scale.admittance(f, v.Value+w.deviations*v.Deviation)
}

var _ model.Boundary = fittedWall{}

// fitted returns a fitted wall at the builder's estimate.
func (b *boxBuilder) fitted(name string, s model.Surface) (model.Boundary, error) {
	scale, err := NewScale(name, s)
	if err != nil {
		return nil, err
	}
	b.measured = append(b.measured, name)
	deviations := map[material.Estimate]float64{material.Low: -RangeDeviations, material.High: RangeDeviations}[b.estimate]
	return scale.Fitted(s.Fit, deviations), nil
}
