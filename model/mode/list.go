package mode

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind tells along how many axes a mode runs.
type Kind int

// The kinds of modes: along one axis, two or all three.
const (
	Axial Kind = iota + 1
	Tangential
	Oblique
)

// String returns the kind as the trade writes it.
func (k Kind) String() string {
	switch k {
	case Axial:
		return "axial"
	case Tangential:
		return "tangential"
	case Oblique:
		return "oblique"
	}
	return fmt.Sprintf("Kind(%d)", int(k))
}

// Mode is one mode of a box: the standing wave cos·cos·cos between rigid walls,
// with what the real walls do to its frequency and decay to first order.
type Mode struct {
	N [3]int // half waves along x, y, z

	Frequency float64 // Hz, between rigid walls
	Damped    float64 // Hz, shifted by springy or heavy walls
	Rate      float64 // δ in 1/s; pressure decays as e^{-δt}
}

// Kind returns along how many axes the mode runs.
func (m Mode) Kind() Kind {
	var k Kind
	for _, n := range m.N {
		if n > 0 {
			k++
		}
	}
	return k
}

// String returns the mode's indices, "2-0-1".
func (m Mode) String() string { return fmt.Sprintf("%d-%d-%d", m.N[0], m.N[1], m.N[2]) }

// DecayTime returns the time in s in which the mode falls by 60 dB, 3 ln10/δ;
// +Inf if nothing damps it.
func (m Mode) DecayTime() float64 { return 3 * math.Ln10 / m.Rate }

// Bandwidth returns the width of the mode's peak at half power in Hz, δ/π, about
// 2.2 divided by the decay time (Kuttruff, Room Acoustics, ch. 3).
func (m Mode) Bandwidth() float64 { return m.Rate / math.Pi }

// Quality returns Q, the frequency over the bandwidth.
func (m Mode) Quality() float64 { return m.Frequency / m.Bandwidth() }

// List returns the modes of a box up to a frequency in Hz, ascending in frequency,
// then in the indices along x, y, z. The uniform pressure (0-0-0) is not listed.
//
// Between rigid walls f = (c/2) √Σ(n/L)² (Rayleigh). The walls' admittance β at
// that frequency makes, to first order (Morse & Bolt 1944, Rev. Mod. Phys. 16, 69;
// Kuttruff, Room Acoustics, ch. 3),
//
//	δ - j2πΔf = (c/2V) Σ ε S β
//
// over the six walls of area S, where ε is 2 for a wall that the mode runs against
// and 1 for a wall that it grazes. Lossy air adds ωη to δ. That is good to a few
// tenths of a per cent for β = 0.05; [FreeDecay] gives the coupled solution.
//
// List panics if the box has no size or upTo is not finite.
func List(box model.Box, upTo float64) []Mode {
	if !(box.Size.X > 0 && box.Size.Y > 0 && box.Size.Z > 0 && upTo < 1e6) {
		panic(fmt.Sprintf("mode: modes of a box of %v m up to %v Hz", box.Size, upTo))
	}
	var modes []Mode
	for _, n := range indices(box.Size, box.Air.Speed, upTo) {
		modes = append(modes, damp(box, Mode{N: n, Frequency: rigid(box.Size, box.Air.Speed, n)}))
	}
	slices.SortFunc(modes, func(a, b Mode) int {
		return cmp.Or(cmp.Compare(a.Frequency, b.Frequency), slices.Compare(a.N[:], b.N[:]))
	})
	return modes
}

// rigid returns the frequency of a mode between rigid walls in Hz.
func rigid(size r3.Vec, c float64, n [3]int) float64 {
	return c / 2 * r3.Norm(r3.Vec{X: float64(n[0]) / size.X, Y: float64(n[1]) / size.Y, Z: float64(n[2]) / size.Z})
}

// indices lists the indices of all modes up to a frequency but 0-0-0.
func indices(size r3.Vec, c, upTo float64) [][3]int {
	most := func(d int) int { return int(2 * upTo / c * component(size, d) * (1 + 1e-12)) }
	var all [][3]int
	for x := range most(0) + 1 {
		for y := range most(1) + 1 {
			for z := range most(2) + 1 {
				n := [3]int{x, y, z}
				if f := rigid(size, c, n); f > 0 && f <= upTo*(1+1e-12) {
					all = append(all, n)
				}
			}
		}
	}
	return all
}

// damp fills in the first-order effect of walls and air.
func damp(box model.Box, m Mode) Mode {
	var sum complex128 // Σ ε S β / V
	for _, face := range model.Faces {
		d := face.Axis()
		share := 1 / component(box.Size, d) // S/V
		if m.N[d] > 0 {
			share *= 2
		}
		sum += complex(share, 0) * box.Admittance(face, m.Frequency)
	}
	half := box.Air.Speed / 2
	m.Rate = half*real(sum) + 2*math.Pi*m.Frequency*box.Air.Loss
	m.Damped = m.Frequency - half*imag(sum)/(2*math.Pi)
	return m
}

// Shape returns the mode's pressure at a place in the box relative to its maximum,
// -1 to 1: the product of three cosines.
func (m Mode) Shape(size, at r3.Vec) float64 {
	p := 1.0
	for d, n := range m.N {
		p *= math.Cos(float64(n) * math.Pi * component(at, d) / component(size, d))
	}
	return p
}
