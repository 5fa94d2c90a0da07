package material

import (
	"cmp"
	"math"
	"slices"

	"evenbass/model"
)

// row is one construction as it stands in the library: the facts, before they are
// extrapolated to low frequencies.
type row struct {
	name string
	kind Kind

	// Random-incidence absorption at 125, 250 and 500 Hz. low and high are those of
	// other rows that fit the words as well, all zero if there is none.
	typical, low, high [3]float64

	source string
	rule   Rule
	mass   float64 // of the sheet or pane, kg/m²
	cavity float64 // air behind a sheet, m
	filled bool    // that air is full of wool
	note   string

	plain *model.Plain // stands for itself, with typical and low in every band
}

// library returns all rows sorted by name.
func library() []row {
	rows := slices.Concat(walls(), floors(), ceilings(), doorsAndWindows(), idealBoundaries())
	slices.SortFunc(rows, func(a, b row) int { return cmp.Compare(a.name, b.name) })
	return rows
}

// construction extrapolates the row to all bands and widens its range by the differences between
// laboratories.
func (r row) construction() Construction {
	c := Construction{
		Name: r.name, Kind: r.kind, Source: r.source, Rule: r.rule, Note: r.note, plain: r.plain,
	}
	if r.rule == Sprung {
		c.Resonance = MassAirResonance(r.mass, r.cavity, r.filled, model.AirAt(0))
	}
	if r.rule != Stated {
		c.Lowest = 125
	}
	for i, f := range Bands() {
		c.Absorption[i] = r.at(f, c.Resonance)
	}
	return c
}

// at returns the absorption at f for a sheet with resonance f0.
func (r row) at(f, f0 float64) Span {
	switch {
	case r.rule == Stated:
		return Span{r.low[0], r.typical[0], r.high[0]}
	case f >= 125:
		return r.printed(f)
	}
	s, k := r.printed(125), r.rule.below(f, f0)
	s = Span{s.Low * k.Low, s.Typical * k.Typical, s.High * k.High}
	wider := (1 + reproducibility(f)) / (1 + reproducibility(125))
	switch r.rule {
	case Massive:
		s.High *= wider
	case Pane:
		s.Low, s.High = s.Low/wider, max(s.High, sheetTransmission(r.mass, f))
	default:
		s.Low, s.High = s.Low/wider, s.High*wider
	}
	bare := Span{0.007 * math.Sqrt(f/125), 0.01, 0.02}
	s.Low, s.Typical, s.High = max(s.Low, bare.Low), max(s.Typical, bare.Typical), max(s.High, bare.High)
	s.High = min(s.High, MaxRandomAbsorption)
	return s
}

// leastSpread is how much more than its row a hard surface may plausibly absorb: rows near zero are printed
// to one digit, and leaks and fittings of a real wall are not in them. Common practice, no source; surfaces
// of real rooms as estimated in place (BRAS round robin) lie up to 0.04 above the rows at 125 Hz.
const leastSpread = 0.02

// printed returns the absorption within the range of the tables, linear over log f
// between octaves: the span of the rows, and at least the span of one row
// measured in two laboratories.
func (r row) printed(f float64) Span {
	octave := math.Log2(f / 125)
	i := min(int(octave), 1)
	between := func(v [3]float64) float64 { return v[i] + (octave-float64(i))*(v[i+1]-v[i]) }
	s := Span{between(r.low), between(r.typical), between(r.high)}
	one := 1 + reproducibility(f)
	if r.low == ([3]float64{}) {
		s.Low = s.Typical
	}
	s.Low = min(s.Low, s.Typical/one)
	s.High = max(s.High, s.Typical*one, s.Typical+leastSpread)
	return s
}
