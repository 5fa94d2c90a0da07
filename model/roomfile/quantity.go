package roomfile

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
func ParseLength(text string) (float64, error) { return lengths.parse(text) }

// ParseTemperature reads a temperature in °C, °F or K and returns it in K. The error
// is a [*Mistake].
func ParseTemperature(text string) (float64, error) {
	v, err := temperatures.parse(text)
	if err == nil && v <= 0 {
		return 0, &Mistake{model.Sprintf("%q is absolute zero or below", text), "write it as 20 °C"}
	}
	return v, err
}

// ParseAngle reads an angle in degrees (°, deg) or rad and returns it in rad. The
// error is a [*Mistake].
func ParseAngle(text string) (float64, error) { return angles.parse(text) }

// ParseFrequency reads a frequency in Hz or kHz and returns it in Hz. The error is a
// [*Mistake].
func ParseFrequency(text string) (float64, error) { return frequencies.parse(text) }

// ParseTime reads a time in s, ms or µs and returns it in s. The error is a
// [*Mistake].
func ParseTime(text string) (float64, error) { return times.parse(text) }

// ParseShare reads a share such as 0.12 or 12 % and returns it as a ratio; it may lie
// outside 0 to 1. The error is a [*Mistake].
func ParseShare(text string) (float64, error) { return ratios.parse(text) }

// ParseSmoothing reads the width of a smoothing window, such as "1/12 octave", and
// returns the denominator. The error is a [*Mistake].
func ParseSmoothing(text string) (int, error) {
	m := smoothingText.FindStringSubmatch(tidy(text))
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
	if tidy(text) == "any" {
		return model.Range{}, nil
	}
	r, err := parseEnds(text, parse)
	if err != nil || r.Given() {
		return r, err
	}
	return model.Range{}, &Mistake{model.Sprintf("%q is a range of nothing", text), `write "any" for no limits`}
}

// parseEnds reads one value for both ends, or from low to high. A first value without unit
// takes that of the second.
func parseEnds(text string, parse func(string) (float64, error)) (model.Range, error) {
	low, high, two := strings.Cut(tidy(text), " to ")
	if !two {
		high = low
	} else if bareNumber.MatchString(low) {
		low = join(low, strings.TrimLeft(high, "+-.0123456789 "))
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

var bareNumber = regexp.MustCompile(`^[-+]?[.\d]+$`)

// parse reads a quantity of the dimension and returns it in SI.
func (d *dimension) parse(text string) (float64, error) {
	parts, err := scan(text)
	if err != nil {
		return 0, err
	}
	if len(parts) == 0 || parts[0].number == "" {
		return 0, &Mistake{model.Sprintf("%q has no number", text), "write " + d.example("3")}
	}
	for i := range parts {
		if parts[i].text != "" {
			return 0, &Mistake{model.Sprintf("%q does not belong in a %s", parts[i].text, d.name), "write " + d.example(parts[0].number)}
		}
	}
	if len(parts) == 2 && d == &lengths {
		return feetAndInches(text, parts)
	}
	if len(parts) > 1 {
		return 0, &Mistake{model.Sprintf("%q is more than one %s", text, d.name), "write one, such as " + d.example(parts[0].number)}
	}
	return d.convert(text, parts[0])
}

// convert turns one number with its unit into SI.
func (d *dimension) convert(text string, p part) (float64, error) {
	u, ok := d.find(p.unit)
	switch {
	case ok:
	case p.unit == "" && p.value == 0 && d == &lengths:
		return 0, nil
	case p.unit == "":
		return 0, &Mistake{model.Sprintf("%q has no unit", text), model.Sprintf("write %s (units: %s)", d.likely(p), d.like)}
	default:
		return 0, d.unknownUnit(text, p.unit)
	}
	v := u.si(p.value)
	if math.IsInf(v, 0) {
		return 0, &Mistake{model.Sprintf("%q is too large a number", text), ""}
	}
	return d.clean(v), nil
}

// likely is a bare number with the unit that makes it a likely value: of a length, the largest
// of m, cm and mm that keeps it below 20 m.
func (d *dimension) likely(p part) string {
	if d != &lengths || p.value < 20 {
		return d.example(p.number)
	}
	if p.value < 2000 {
		return join(p.number, "cm")
	}
	return join(p.number, "mm")
}

// example is a number with the unit that is offered first.
func (d *dimension) example(number string) string {
	first, _, _ := strings.Cut(d.like, ",")
	return join(number, first)
}

// feetAndInches joins the two parts of a length such as 11 ft 2 in.
func feetAndInches(text string, parts []part) (float64, error) {
	ft, inch := parts[0], parts[1]
	first, _ := lengths.find(ft.unit)
	second, _ := lengths.find(inch.unit)
	wrong := first.symbol() != "ft" || second.symbol() != "in"
	if wrong || inch.value < 0 || inch.value >= 12 || math.Signbit(ft.value) || ft.value != math.Trunc(ft.value) {
		return 0, &Mistake{
			model.Sprintf("%q is not one length", text),
			"only whole feet and inches below 12 go together, such as 11 ft 2 in",
		}
	}
	return lengths.clean(second.si(ft.value*12 + inch.value)), nil
}
