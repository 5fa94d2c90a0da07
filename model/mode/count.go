package mode

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Count is a number of modes by kind, counted or estimated.
type Count struct{ Axial, Tangential, Oblique float64 }

// Total returns the number of modes of all kinds.
func (c Count) Total() float64 { return c.Axial + c.Tangential + c.Oblique }

// Tally counts modes up to a frequency in Hz, between rigid walls.
func Tally(modes []Mode, upTo float64) Count {
	var c Count
	for _, m := range modes {
		if m.Frequency > upTo {
			continue
		}
		switch m.Kind() {
		case Axial:
			c.Axial++
		case Tangential:
			c.Tangential++
		case Oblique:
			c.Oblique++
		}
	}
	return c
}

// Estimate returns about how many modes a box of a size in m has up to frequency f
// in Hz at c m/s. With u = f/c, volume V, surface S and the twelve edges' length E,
//
//	axial       Eu/2
//	tangential  πSu²/2 - Eu/2
//	oblique     4πVu³/3 - πSu²/4 + Eu/8
//
// (Maa 1939, JASA 10, 235; Morse & Bolt 1944, Rev. Mod. Phys. 16, 69). The total
// counts the uniform pressure out and is good to a few modes; the first of its
// three terms alone is half of it at the bottom of a small room.
func Estimate(size r3.Vec, c, f float64) Count {
	v, s, e := extents(size)
	u := f / c
	return Count{
		Axial:      e * u / 2,
		Tangential: math.Pi*s*u*u/2 - e*u/2,
		Oblique:    4*math.Pi*v*u*u*u/3 - math.Pi*s*u*u/4 + e*u/8,
	}
}

// Density returns about how many modes per Hz a box has at frequency f in Hz, the
// derivative of the total of [Estimate]:
//
//	4πVf²/c³ + πSf/2c² + E/8c
func Density(size r3.Vec, c, f float64) float64 {
	v, s, e := extents(size)
	return 4*math.Pi*v*f*f/(c*c*c) + math.Pi*s*f/(2*c*c) + e/(8*c)
}

// extents returns volume in m³, surface in m² and the length of the edges in m.
func extents(size r3.Vec) (v, s, e float64) {
	x, y, z := size.X, size.Y, size.Z
	return x * y * z, 2 * (x*y + y*z + z*x), 4 * (x + y + z)
}
