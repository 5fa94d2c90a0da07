package material

import (
	"fmt"
	"math"

	"evenbass/model"
)

// Portion is a part of a room's surface.
type Portion struct {
	Area       float64 // m²
	Absorption float64 // random incidence
}

// Sabine returns the reverberation time in s of a room of the given volume in m³:
//
//	T = 24 ln 10 · V / (c A),   A = Σ S α
//
// (W. C. Sabine; ISO 354:2003 rounds 24 ln 10 to 55.3.) c is the speed of sound in
// m/s. No absorption at all gives +Inf.
func Sabine(volume, c float64, portions []Portion) float64 {
	var a float64
	for _, p := range portions {
		a += p.Area * p.Absorption
	}
	return 24 * math.Ln10 * volume / (c * a)
}

// Eyring returns the reverberation time in s for the same room if sound loses the
// mean absorption ᾱ = A/S at once with every reflection (C. F. Eyring, JASA 1
// (1930) 217):
//
//	T = 24 ln 10 · V / (-c S ln(1 - ᾱ))
func Eyring(volume, c float64, portions []Portion) float64 {
	var a, s float64
	for _, p := range portions {
		a += p.Area * p.Absorption
		s += p.Area
	}
	return 24 * math.Ln10 * volume / (-c * s * math.Log1p(-a/s))
}

// ReverberationTime returns the reverberation time of a box in s at frequency f
// after Sabine and after Eyring, from the random-incidence absorption of its
// walls. Both take the field to be diffuse: below the [TransitionFrequency] a
// room decays mode by mode, and the figure is an average at best.
func ReverberationTime(box *model.Box, f float64) (sabine, eyring float64) {
	room := model.Room{Size: box.Size}
	portions := make([]Portion, len(model.Faces))
	for _, face := range model.Faces {
		portions[face] = Portion{
			Area:       room.Area(face),
			Absorption: RandomAbsorption(impedance(box.Admittance(face, f))),
		}
	}
	v, c := room.Volume(), box.Air.Speed
	return Sabine(v, c, portions), Eyring(v, c, portions)
}

// impedance returns 1/β, and +Inf for a rigid wall.
func impedance(beta complex128) complex128 {
	if beta == 0 {
		return complex(math.Inf(1), 0)
	}
	return 1 / beta
}

// TransitionFrequency returns the frequency in Hz above which a room of volume V
// in m³ and reverberation time T in s has at least three modes within the width
// of one, and statistics may be trusted (M. R. Schroeder, JASA 34 (1962) 76):
//
//	f = 2000 √(T/V)
//
// It panics if the volume is not positive or the time is negative.
func TransitionFrequency(reverberation, volume float64) float64 {
	if !(volume > 0) || !(reverberation >= 0) {
		panic(fmt.Sprintf("material: transition frequency of %v s in %v m³", reverberation, volume))
	}
	return 2000 * math.Sqrt(reverberation/volume)
}
