package mode

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"

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

// Mode is one mode of a box: a standing wave of n half waves along x, y, z that rings
// by itself.
type Mode struct {
	N [3]int // half waves along x, y, z

	Rigid     float64 // Hz, between rigid walls
	Frequency float64 // Hz, between the walls as they are
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
// Frequency and decay are those of [FreeDecay].
//
// Behind walls that absorb nearly all, a mode may lose its identity: it is then not
// listed, and missing counts the modes up to that frequency between rigid walls of
// which this is so.
//
// List panics if the box has no size or upTo is not finite.
func List(box model.Box, upTo float64) (modes []Mode, missing int) {
	if !(box.Size.X > 0 && box.Size.Y > 0 && box.Size.Z > 0 && upTo < 1e6) {
		panic(fmt.Sprintf("mode: modes of a box of %v m up to %v Hz", box.Size, upTo))
	}
	all := Indices(box.Size, box.Air.Speed, upTo*highestShift)
	if len(all) == 0 {
		return nil, 0
	}
	w := newWalls(box, rigid(box.Size, box.Air.Speed, all[0])/highestShift, upTo*highestShift)
	found, axes := make([]Mode, len(all)), make([][3]complex128, len(all))
	concurrent.Each(len(all), func(i int) error {
		found[i], axes[i], _ = freeDecay(w, all[i])
		return nil
	})
	for i, m := range found {
		lost := m.Frequency == 0 || slices.ContainsFunc(axes[:i], func(u [3]complex128) bool { return same(u, axes[i]) })
		switch {
		case !lost && m.Frequency <= upTo*(1+1e-12):
			modes = append(modes, m)
		case lost && m.Rigid <= upTo*(1+1e-12):
			missing++
		}
	}
	slices.SortFunc(modes, func(a, b Mode) int {
		return cmp.Or(cmp.Compare(a.Frequency, b.Frequency), slices.Compare(a.N[:], b.N[:]))
	})
	return modes, missing
}

// highestShift is how far above the limit modes are looked for between rigid walls:
// springy walls lower them. Common practice, no source: light walls do so by a few per
// cent.
const highestShift = 1.3

// same reports whether two modes have become one.
func same(a, b [3]complex128) bool {
	for d := range a {
		if cmplx.Abs(a[d]-b[d]) > 1e-6*(1+cmplx.Abs(b[d])) {
			return false
		}
	}
	return true
}

// rigid returns the frequency of a mode between rigid walls in Hz.
func rigid(size r3.Vec, c float64, n [3]int) float64 {
	return c / 2 * r3.Norm(r3.Vec{X: float64(n[0]) / size.X, Y: float64(n[1]) / size.Y, Z: float64(n[2]) / size.Z})
}

// Indices returns the half waves of all modes but 0-0-0 up to a frequency in Hz between
// rigid walls, f = (c/2) √Σ(n/L)² (Rayleigh), ascending in frequency, then along x, y, z.
func Indices(size r3.Vec, c, upTo float64) [][3]int {
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
	slices.SortFunc(all, func(a, b [3]int) int {
		return cmp.Or(cmp.Compare(rigid(size, c, a), rigid(size, c, b)), slices.Compare(a[:], b[:]))
	})
	return all
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
