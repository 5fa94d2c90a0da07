package quantity

import (
	"math"
	"strconv"
	"strings"

	"evenbass/model"
)

// Dimension is a kind of quantity with the units in which it may be written. The
// first unit is the SI one, with factor 1.
type Dimension struct {
	name  string // "length", as in "a length is wanted"
	Like  string // the units to offer
	units []unit
}

// unit converts to SI by (v+shift)·mul/div + zero. Division keeps values such as
// 28 cm on the float64 nearest to 0.28.
type unit struct {
	names            string // separated by spaces, the one to write first
	mul, div         float64
	shift, zeroPoint float64
}

// The dimensions of the room file. Their units have exact factors: the inch is
// 25.4 mm (international yard and pound agreement, 1959), the mil a thousandth of
// it, the rayl 1 Pa·s/m and its CGS namesake 10 Pa·s/m.
var (
	Lengths = Dimension{"length", "m, cm, mm, ft, in", []unit{
		{names: "m metre metres meter meters", mul: 1, div: 1},
		{names: "cm", mul: 1, div: 100},
		{names: "mm", mul: 1, div: 1000},
		{names: "µm um micron microns", mul: 1, div: 1e6},
		{names: "ft ' foot feet", mul: 3048, div: 1e4},
		{names: "in \" inch inches", mul: 254, div: 1e4},
		{names: "mil mils thou", mul: 254, div: 1e7},
	}}
	Temperatures = Dimension{"temperature", "°C, °F, K", []unit{
		{names: "K kelvin", mul: 1, div: 1},
		{names: "°C C celsius", mul: 1, div: 1, zeroPoint: 273.15},
		{names: "°F F fahrenheit", mul: 5, div: 9, shift: 459.67},
	}}
	Angles = Dimension{"angle", "°", []unit{
		{names: "rad", mul: 1, div: 1},
		{names: "° deg degree degrees", mul: math.Pi, div: 180},
	}}
	Frequencies = Dimension{"frequency", "Hz", []unit{
		{names: "Hz", mul: 1, div: 1},
		{names: "kHz", mul: 1000, div: 1},
	}}
	Times = Dimension{"time", "s, ms", []unit{
		{names: "s", mul: 1, div: 1},
		{names: "ms", mul: 1, div: 1000},
		{names: "µs us", mul: 1, div: 1e6},
	}}
	Resistivities = Dimension{"flow resistivity", "kPa·s/m², Pa·s/m², krayl/m", []unit{
		{names: "Pa·s/m² rayl/m rayls/m", mul: 1, div: 1},
		{names: "kPa·s/m² krayl/m krayls/m rayl/cm", mul: 1000, div: 1},
	}}
	Densities     = Dimension{"density", "kg/m³", []unit{{names: "kg/m³", mul: 1, div: 1}}}
	SurfaceMasses = Dimension{"mass per area", "kg/m², g/m²", []unit{
		{names: "kg/m²", mul: 1, div: 1},
		{names: "g/m²", mul: 1, div: 1000},
	}}
	Dampings    = Dimension{"damping", "Pa·s/m", []unit{{names: "Pa·s/m rayl", mul: 1, div: 1}}}
	Stiffnesses = Dimension{"stiffness", "Pa/m, MPa/m", []unit{
		{names: "Pa/m N/m³", mul: 1, div: 1},
		{names: "kPa/m", mul: 1000, div: 1},
		{names: "MPa/m", mul: 1e6, div: 1},
	}}
	Levels    = Dimension{"level", "dB", []unit{{names: "dB", mul: 1, div: 1}}}
	Ratios    = Dimension{"share", "%", []unit{{names: "", mul: 1, div: 1}, {names: "%", mul: 1, div: 100}}}
	fractions = Dimension{"part of an octave", "octave", []unit{{names: "octave octaves", mul: 1, div: 1}}}
)

// dimensions lists those that have units of their own.
func dimensions() []*Dimension {
	return []*Dimension{
		&Lengths, &Temperatures, &Angles, &Frequencies, &Times, &Resistivities,
		&Densities, &SurfaceMasses, &Dampings, &Stiffnesses, &fractions, &Levels,
	}
}

// Find returns the unit of that name, in any mix of upper and lower case.
func (d *Dimension) Find(name string) (unit, bool) {
	for _, u := range d.units {
		if u.names == name {
			return u, true
		}
		for n := range strings.FieldsSeq(u.names) {
			if strings.EqualFold(n, name) {
				return u, true
			}
		}
	}
	return unit{}, false
}

// Si converts a value in the unit to SI.
func (u unit) Si(v float64) float64 { return (v+u.shift)*u.mul/u.div + u.zeroPoint }

// from converts a value in SI to the unit.
func (u unit) from(v float64) float64 { return (v-u.zeroPoint)*u.div/u.mul - u.shift }

// symbol is how the unit is written.
func (u unit) symbol() string {
	first, _, _ := strings.Cut(u.names, " ")
	return first
}

// Clean frees a length of rounding noise; other quantities stay as they are.
func (d *Dimension) Clean(v float64) float64 {
	if d == &Lengths {
		return model.CleanLength(v)
	}
	return v
}

// Format writes an SI value, [dimension.clean], in the first of the preferred units that
// gives it back to the last bit, or else in the SI unit.
func (d *Dimension) Format(v float64, preferred ...string) string {
	v = d.Clean(v)
	for _, name := range preferred {
		u, ok := d.Find(name)
		if !ok {
			panic("roomfile: " + d.name + " has no unit " + name)
		}
		text := strconv.FormatFloat(u.from(v), 'g', 12, 64)
		if short, err := strconv.ParseFloat(text, 64); err == nil && u.Si(short) == v {
			return Join(Decimal(short), u.symbol())
		}
	}
	return Join(Decimal(v), d.units[0].symbol())
}

// Join puts a unit after a number: "3 m" but "60°".
func Join(number, symbol string) string {
	if symbol == "°" || symbol == "" {
		return number + symbol
	}
	return number + " " + symbol
}

// Decimal is the shortest text of v that reads back as v.
func Decimal(v float64) string {
	if a := math.Abs(v); v == 0 || a >= 1e-6 && a < 1e9 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// unknownUnit says what is wrong with a unit that d does not have.
func (d *Dimension) unknownUnit(text, name string) error {
	for _, other := range dimensions() {
		if _, ok := other.Find(name); ok {
			return &Mistake{model.Sprintf("%q is %s, expected %s", text, other.one(), d.one()), "units are " + d.Like}
		}
	}
	return &Mistake{model.Sprintf("%q: no unit of %s is called %q", text, d.name, name), "units are " + d.Like}
}

// one is the dimension's name with its article.
func (d *Dimension) one() string {
	if strings.ContainsRune("aeiou", rune(d.name[0])) {
		return "an " + d.name
	}
	return "a " + d.name
}
