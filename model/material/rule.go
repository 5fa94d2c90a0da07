package material

import (
	"math"

	"evenbass/model"
)

// Rule says how a construction's absorption is extrapolated below the lowest
// frequency that its source prints, 125 Hz. Each rule is the low-frequency limit
// of a simple mechanism; none of them is a measurement. None goes below bare
// concrete, which is behind or beside every sheet, pane and carpet.
type Rule int

// The rules.
const (
	// Stated is for constructions without a printed table: all bands are given outright.
	Stated Rule = iota

	// Massive is masonry: no resonance in the range. The little that it absorbs,
	// in pores, leaks and by bending, stays constant; low falls as √f, like the
	// loss of viscous and thermal boundary layers.
	Massive

	// Sprung is a sheet on enclosed air. Down to its resonance f0 the absorption
	// stays constant. Below that only the spring acts, x ~ 1/f, and α ~ r/x² falls
	// with f if the loss is in the structure (r ~ 1/f: typical, high) and with f²
	// if it is in the wool or the joints (r constant: low).
	Sprung

	// Pane is a door or window that moves as a mass above its lowest bending
	// resonance, which is below 30 Hz. Its velocity goes as 1/f and a small
	// sheet radiates as f², so what passes through is held. Low falls as f; high
	// rises to what an infinite sheet of that mass lets through, ln(1+A²)/A² with
	// A = ωm/(2ρc), the mass law in a diffuse field.
	Pane

	// Porous is a thin porous layer on a hard backing or before it: ζ ~ r - j/f, so α
	// falls as f²; high falls as f.
	Porous
)

// String says in a few words what becomes of the absorption below 125 Hz.
func (r Rule) String() string {
	switch r {
	case Stated:
		return "stated outright"
	case Massive:
		return "held below 125 Hz"
	case Sprung:
		return "held below 125 Hz down to the resonance, then falling with frequency"
	case Pane:
		return "held below 125 Hz, up to what the mass law lets through"
	case Porous:
		return "falling as the square of frequency below 125 Hz"
	}
	panic("material: no such rule")
}

// below returns the factors by which the absorption at 125 Hz is multiplied at a
// lower frequency f. f0 is the resonance of a sprung sheet.
func (r Rule) below(f, f0 float64) Span {
	ratio := f / 125
	switch r {
	case Stated:
		return Span{1, 1, 1}
	case Massive:
		return Span{math.Sqrt(ratio), 1, 1}
	case Sprung:
		fall := min(1, f/min(f0, 125))
		return Span{fall * fall, fall, fall}
	case Pane:
		return Span{ratio, 1, 1}
	case Porous:
		return Span{ratio * ratio, ratio * ratio, ratio}
	}
	panic("material: no such rule")
}

// atmosphere is the pressure of the air, Pa.
const atmosphere = 101325

// MassAirResonance returns the resonance in Hz of a limp sheet of the given
// surface mass in kg/m² on a shallow cavity of the given depth in m:
//
//	f0 = 1/(2π) sqrt(K/(m d)),   K = ρc² empty, P0 filled with wool
//
// about 60/sqrt(md) and 50/sqrt(md). Cox and D'Antonio, eqs. 7.9 and 7.10; I. L.
// Vigran, Building Acoustics, eq. 5.42. For a light film on a deep cavity it is
// up to a fifth too high.
func MassAirResonance(mass, depth float64, filled bool, air model.Air) float64 {
	modulus := air.Density * sq(air.Speed)
	if filled {
		modulus = atmosphere
	}
	return math.Sqrt(modulus/(mass*depth)) / (2 * math.Pi)
}

// sheetTransmission returns the share of a diffuse field's power that an infinite
// limp sheet of m kg/m² lets through at frequency f: the mass law.
func sheetTransmission(m, f float64) float64 {
	a := sq(math.Pi * f * m / 413) // ωm/(2ρc), ρc of air at 20 °C
	return math.Log1p(a) / a
}

// reproducibility returns the relative uncertainty (k = 2) of an absorption
// measured in one laboratory and repeated in another, as ISO 12999-2:2020,
// table 4, has it at 63 to 500 Hz (±0.33 of 0.33 at 63 Hz, ±0.09 of 0.36 at 250 Hz).
// Below 63 Hz, where the standard says nothing, it is extrapolated as 1/f.
func reproducibility(f float64) float64 {
	type point struct{ f, relative float64 }
	table := [...]point{
		{63, 1}, {80, 0.26 / 0.35}, {100, 0.22 / 0.39},
		{125, 0.17 / 0.38}, {250, 0.09 / 0.36}, {500, 0.08 / 0.49},
	}
	if f < table[0].f {
		return table[0].relative * table[0].f / f
	}
	for i := 1; i < len(table); i++ {
		a, b := table[i-1], table[i]
		if f <= b.f {
			return a.relative + (b.relative-a.relative)*math.Log(f/a.f)/math.Log(b.f/a.f)
		}
	}
	return table[len(table)-1].relative
}
