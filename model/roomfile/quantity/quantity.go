package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"evenbass/model"
)

// ParseLength reads a length and returns it in m. Units are m, cm, mm, µm, mil, ft
// and in, with ' and " for the last two; feet and inches may be joined, and inches
// may have a fraction: 3.4 m, 340 cm, 11 ft 2 1/2 in, 11'2". Zero needs no unit. The
// error is a [*Mistake].
func ParseLength(text string) (float64, error) { return Lengths.Parse(text) }

// ParseTemperature reads a temperature in °C, °F or K and returns it in K. The error
// is a [*Mistake].
func ParseTemperature(text string) (float64, error) {
	v, err := Temperatures.Parse(text)
	if err == nil && v <= 0 {
		return 0, &Mistake{model.Sprintf("%q is absolute zero or below", text), "write it as 20 °C"}
	}
	return v, err
}

// ParseAngle reads an angle in degrees (°, deg) or rad and returns it in rad. The
// error is a [*Mistake].
func ParseAngle(text string) (float64, error) { return Angles.Parse(text) }

// ParseFrequency reads a frequency in Hz or kHz and returns it in Hz. The error is a
// [*Mistake].
func ParseFrequency(text string) (float64, error) { return Frequencies.Parse(text) }

// ParseTime reads a time in s, ms or µs and returns it in s. The error is a
// [*Mistake].
func ParseTime(text string) (float64, error) { return Times.Parse(text) }

// ParseShare reads a share such as 0.12 or 12 % and returns it as a ratio; it may lie
// outside 0 to 1. The error is a [*Mistake].
func ParseShare(text string) (float64, error) { return Ratios.Parse(text) }

// ParseSmoothing reads the width of a smoothing window, such as "1/12 octave", and
// returns the denominator. The error is a [*Mistake].
func ParseSmoothing(text string) (int, error) {
	m := smoothingText.FindStringSubmatch(Tidy(text))
	if m == nil {
		return 0, &Mistake{model.Sprintf("%q is not a part of an octave", text), "write it as 1/12 octave"}
	}
	n := 1
	if m[1] != "" {
		n, _ = strconv.Atoi(m[1])
	}
	if n == 0 {
		return 0, &Mistake{model.Sprintf("%q divides by zero", text), "write it as 1/12 octave"}
	}
	return n, nil
}

var smoothingText = regexp.MustCompile(`^1(?:/(\d{1,4}))? ?octaves?$`)

// ParseRange reads "0.9 m to 2.0 m", or one value for both ends, with the given
// reader for each end. A first value without unit takes that of the second: 50 to 70°.
// The word "any" gives the range that is not given. The error is a [*Mistake].
func ParseRange(text string, parse func(string) (float64, error)) (model.Range, error) {
	if Tidy(text) == "any" {
		return model.Range{}, nil
	}
	r, err := ParseEnds(text, parse)
	if err != nil || r.Given() {
		return r, err
	}
	return model.Range{}, &Mistake{model.Sprintf("%q is a range of nothing", text), `write "any" for no limits`}
}

// ParseEnds reads one value for both ends, or from low to high. A first value without unit
// takes that of the second.
func ParseEnds(text string, parse func(string) (float64, error)) (model.Range, error) {
	low, high, two := strings.Cut(Tidy(text), " to ")
	if m := dashedRange.FindStringSubmatch(low); m != nil && !two && (m[2] == "" || m[2] == m[4]) {
		return model.Range{}, &Mistake{model.Sprintf("%q has a dash between two values", text), "write " + Join(m[1], m[4]) + " to " + Join(m[3], m[4])}
	}
	if !two {
		high = low
	} else if BareNumber.MatchString(low) {
		low = Join(low, strings.TrimLeft(high, "+-.0123456789 "))
	}
	from, err := parse(low)
	if err != nil {
		return model.Range{}, err
	}
	to, err := parse(high)
	if err != nil {
		return model.Range{}, err
	}
	return model.Range{Min: from, Max: to}, nil
}

// dashedRange is a range written with a dash: 1.4-2.8 m.
var dashedRange = regexp.MustCompile(`^([.\d]+) ?([^\s\d–-]*) ?[-–] ?([.\d]+) ?([^\s\d]+)$`)

var BareNumber = regexp.MustCompile(`^[-+]?[.\d]+$`)

// Parse reads a quantity of the dimension and returns it in SI.
func (d *Dimension) Parse(text string) (float64, error) {
	parts, err := Scan(text)
	if err != nil {
		return 0, err
	}
	if len(parts) == 0 || parts[0].Number == "" {
		return 0, &Mistake{model.Sprintf("%q has no number", text), "write one with its unit, such as " + d.example("3")}
	}
	for i := range parts {
		if parts[i].Text != "" {
			return 0, &Mistake{model.Sprintf("%q does not belong in %s", parts[i].Text, d.one()), "write " + d.example(parts[0].Number)}
		}
	}
	if len(parts) == 2 && d == &Lengths {
		return feetAndInches(text, parts)
	}
	if len(parts) > 1 {
		return 0, &Mistake{model.Sprintf("%q is more than one %s", text, d.name), "write one, such as " + d.first(parts)}
	}
	return d.Convert(text, parts[0])
}

// Convert turns one number with its unit into SI.
func (d *Dimension) Convert(text string, p Part) (float64, error) {
	u, ok := d.Find(p.Unit)
	switch {
	case ok:
	case p.Unit == "" && p.value == 0 && d == &Lengths:
		return 0, nil
	case p.Unit == "":
		return 0, &Mistake{model.Sprintf("%q has no unit", text), model.Sprintf("write %s (units: %s)", d.likely(p), d.Like)}
	default:
		return 0, d.unknownUnit(text, p.Unit)
	}
	v := u.Si(p.value)
	if math.IsInf(v, 0) {
		return 0, &Mistake{model.Sprintf("%q is too large a number", text), ""}
	}
	return d.Clean(v), nil
}

// likely is a bare number with the unit that makes it a likely value: of a length, the largest
// of m, cm and mm that keeps it below 20 m.
func (d *Dimension) likely(p Part) string {
	if d != &Lengths || p.value < 20 {
		return d.example(p.Number)
	}
	if p.value < 2000 {
		return Join(p.Number, "cm")
	}
	return Join(p.Number, "mm")
}

// example is a number with the unit that is offered first.
func (d *Dimension) example(number string) string {
	first, _, _ := strings.Cut(d.Like, ",")
	return Join(number, first)
}

// first is what several numbers begin with: feet and inches, or one number with its unit.
func (d *Dimension) first(parts []Part) string {
	if d == &Lengths {
		if _, err := feetAndInches("", parts[:2]); err == nil {
			return Join(parts[0].Number, "ft") + " " + Join(parts[1].Number, "in")
		}
	}
	if _, ok := d.Find(parts[0].Unit); ok {
		return Join(parts[0].Number, parts[0].Unit)
	}
	return d.example(parts[0].Number)
}

// feetAndInches joins the two parts of a length such as 11 ft 2 in, or 11'2 without its last mark.
func feetAndInches(text string, parts []Part) (float64, error) {
	ft, inch := parts[0], parts[1]
	first, _ := Lengths.Find(ft.Unit)
	if inch.Unit == "" && ft.Unit == "'" {
		inch.Unit = `"`
	}
	second, _ := Lengths.Find(inch.Unit)
	wrong := first.symbol() != "ft" || second.symbol() != "in"
	if wrong || inch.value < 0 || inch.value >= 12 || math.Signbit(ft.value) || ft.value != math.Trunc(ft.value) {
		return 0, &Mistake{
			model.Sprintf("%q is not one length", text),
			"only whole feet and inches below 12 go together, such as 11 ft 2 in",
		}
	}
	return Lengths.Clean(second.Si(ft.value*12 + inch.value)), nil
}
