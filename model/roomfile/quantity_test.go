package roomfile

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// The inch is 25.4 mm exactly (international yard and pound agreement, 1959), the
// foot 12 of them; 0 °C is 273.15 K and 1 °F 5/9 K with 32 °F at 0 °C (NIST SP 811,
// appendix B.8). All right-hand sides are worked by hand from these.
func TestQuantities(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parse func(string) (float64, error)
		text  string
		want  float64
	}{
		{quantity.ParseLength, "3.4 m", 3.4},
		{quantity.ParseLength, "340 cm", 3.4},
		{quantity.ParseLength, "2440 mm", 2.44},
		{quantity.ParseLength, "28cm", 0.28},
		{quantity.ParseLength, "0", 0},
		{quantity.ParseLength, "0 m", 0},
		{quantity.ParseLength, "-0.5 m", -0.5},
		{quantity.ParseLength, "−0.5 m", -0.5},
		{quantity.ParseLength, ".5 m", 0.5},
		{quantity.ParseLength, "100 µm", 1e-4},
		{quantity.ParseLength, "100 μm", 1e-4}, // Greek mu
		{quantity.ParseLength, "4 mil", 1.016e-4},
		{quantity.ParseLength, "30 in", 0.762},
		{quantity.ParseLength, `30"`, 0.762},
		{quantity.ParseLength, "11 ft", 3.3528},
		{quantity.ParseLength, "11 ft 2 in", 3.4036},
		{quantity.ParseLength, `11'2"`, 3.4036},
		{quantity.ParseLength, `11' 2"`, 3.4036},
		{quantity.ParseLength, `11′2″`, 3.4036},
		{quantity.ParseLength, "11ft2in", 3.4036},
		{quantity.ParseLength, "11 ft 2 1/2 in", 3.4163},
		{quantity.ParseLength, "11 ft 2½ in", 3.4163},
		{quantity.ParseLength, `11'2 1/2"`, 3.4163},
		{quantity.ParseLength, "11.5 ft", 3.5052},
		{quantity.ParseLength, "1/2 in", 0.0127},
		{quantity.ParseLength, "1e-3 m", 0.001},
		{quantity.ParseTemperature, "20 °C", 293.15},
		{quantity.ParseTemperature, "20°C", 293.15},
		{quantity.ParseTemperature, "20 C", 293.15},
		{quantity.ParseTemperature, "-10 °C", 263.15},
		{quantity.ParseTemperature, "62 °F", 289.816667},
		{quantity.ParseTemperature, "32 °F", 273.15},
		{quantity.ParseTemperature, "293 K", 293},
		{quantity.ParseAngle, "60°", math.Pi / 3},
		{quantity.ParseAngle, "60 °", math.Pi / 3},
		{quantity.ParseAngle, "60 deg", math.Pi / 3},
		{quantity.ParseAngle, "1.5 rad", 1.5},
		{quantity.ParseFrequency, "300 Hz", 300},
		{quantity.ParseFrequency, "300 hz", 300},
		{quantity.ParseFrequency, "0.3 kHz", 300},
		{quantity.ParseTime, "35 ms", 0.035},
		{quantity.ParseTime, "1.2 s", 1.2},
		{quantity.ParseTime, "500 µs", 0.0005},
		{quantity.ParseShare, "0.12", 0.12},
		{quantity.ParseShare, "12 %", 0.12},
	} {
		got, err := c.parse(c.text)
		if err != nil || math.Abs(got-c.want) > 1e-6*max(1e-3, math.Abs(c.want)) {
			t.Errorf("%q is %v, %v; want %v", c.text, got, err, c.want)
		}
	}
}

// Each mistake is named, and what to write instead.
func TestQuantityMistakes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		parse func(string) (float64, error)
		text  string
		want  string
	}{
		{quantity.ParseLength, "4.62", `"4.62" has no unit; write 4.62 m`},
		{quantity.ParseLength, "330", `"330" has no unit; write 330 cm`},
		{quantity.ParseLength, "3300", `"3300" has no unit; write 3300 mm`},
		{quantity.ParseLength, "4,7 m", `"4,7 m" has a comma inside a number; write 4.7 m`},
		{quantity.ParseLength, "1,234 mm", "write 1.234 mm or 1234 mm"},
		{quantity.ParseLength, "", `"" has no number; write one with its unit, such as 3 m`},
		{quantity.ParseLength, "m", `"m" has no number; write one with its unit, such as 3 m`},
		{quantity.ParseLength, "about 3 m", `"about" does not belong in a length; write 3 m`},
		{quantity.ParseLength, "3 m ish", `"ish" does not belong`},
		{quantity.ParseLength, "3 yd", `no unit of length is called "yd"`},
		{quantity.ParseLength, "35 ms", `"35 ms" is a time, expected a length`},
		{quantity.ParseLength, "3 m 20 cm", "only whole feet and inches below 12 go together"},
		{quantity.ParseLength, "11 ft 13 in", "below 12"},
		{quantity.ParseLength, "11.5 ft 2 in", "whole feet"},
		{quantity.ParseLength, "-1 ft 2 in", "whole feet"},
		{quantity.ParseLength, "1 ft 2 in 3 mm", "is more than one length"},
		{quantity.ParseLength, "NaN m", "is not a finite number"},
		{quantity.ParseLength, "nan", "is not a finite number"},
		{quantity.ParseLength, "Inf m", "is not a finite number"},
		{quantity.ParseLength, "-.inf", "is not a finite number"},
		{quantity.ParseLength, "1e999 m", "is not a number that fits"},
		{quantity.ParseLength, "1/0 in", "is not a fraction"},
		{quantity.ParseLength, "3..4 m", "is not one length"},
		{quantity.ParseTemperature, "20", `write 20 °C`},
		{quantity.ParseTemperature, "20 m", "is a length, expected a temperature"},
		{quantity.ParseAngle, "60", "write 60°"},
		{quantity.ParseFrequency, "0", "has no unit; write 0 Hz"},
		{quantity.ParseFrequency, "1e308 kHz", "too large"},
		{quantity.ParseTime, "35", "write 35 s"},
		{quantity.ParseShare, "0.1 m", "expected a share"},
	} {
		v, err := c.parse(c.text)
		var m *quantity.Mistake
		if !errors.As(err, &m) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v and %v, want an error with %q", c.text, v, err, c.want)
		}
	}
}

func TestParseSmoothing(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int{"1/12 octave": 12, "1/3 octave": 3, "1 octave": 1, "1/48 octaves": 48, "1/12octave": 12} {
		if got, err := quantity.ParseSmoothing(text); err != nil || got != want {
			t.Errorf("%q is %d, %v; want %d", text, got, err, want)
		}
	}
	for _, text := range []string{"12", "1/0 octave", "2/3 octave", "1/99999 octave", "", "octave", "1/12 m"} {
		if got, err := quantity.ParseSmoothing(text); err == nil {
			t.Errorf("%q is %d, want an error", text, got)
		}
	}
}

func TestParseRange(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]model.Range{
		"0.9 m to 2.0 m":     {Min: 0.9, Max: 2},
		"0.9 to 2.0 m":       {Min: 0.9, Max: 2},
		"90 to 200 cm":       {Min: 0.9, Max: 2},
		"1.9 m":              {Min: 1.9, Max: 1.9},
		"0 to 1 m":           {Min: 0, Max: 1},
		"4 ft 2 in to 2.0 m": {Min: 1.27, Max: 2},
		"any":                {},
	} {
		if got, err := quantity.ParseRange(text, quantity.ParseLength); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "0 m", "1 m to", "to 1 m", "1 m - 2 m", "1 m to 2 m to 3 m", "1 m to 2", "any to 2 m"} {
		if got, err := quantity.ParseRange(text, quantity.ParseLength); err == nil {
			t.Errorf("%q is %v, want an error", text, got)
		}
	}
	if r, err := quantity.ParseRange("50 to 70°", quantity.ParseAngle); err != nil || math.Abs(r.Max-70*math.Pi/180) > 1e-15 {
		t.Errorf("angles: %v, %v", r, err)
	}
}

func TestParseImpedance(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]complex128{
		"60": 60, "60 - 20j": 60 - 20i, "60-20j": 60 - 20i, "0.5+3j": 0.5 + 3i, "0 + 3i": 3i, "60 + j20": 60 + 20i,
		"-5": -5, "1e3 - 2.5e-1j": 1000 - 0.25i, ".5": 0.5, "60 − 20j": 60 - 20i,
	} {
		if got, err := ParseImpedance(text); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "60 20j", "j", "60 -", "60 - 20", "60 ohm", "20j", "NaN", "60 - - 20j", "1e999"} {
		if got, err := ParseImpedance(text); err == nil {
			t.Errorf("%q is %v, want an error", text, got)
		}
	}
}

// What is written in a unit reads back to the last bit, whatever the value.
func TestFormatReadsBack(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		d     *quantity.Dimension
		units []string
	}{
		{&quantity.Lengths, nil}, {&quantity.Lengths, []string{"mm", "µm"}},
		{&quantity.Temperatures, []string{"°C"}},
		{&quantity.Angles, []string{"°"}},
		{&quantity.Frequencies, nil}, {&quantity.Times, []string{"ms"}},
		{&quantity.Resistivities, []string{"kPa·s/m²"}},
		{&quantity.Densities, nil}, {&quantity.SurfaceMasses, nil}, {&quantity.Ratios, []string{"%"}}, {&quantity.Dampings, nil}, {&quantity.Stiffnesses, nil},
	} {
		rapid.Check(t, func(t *rapid.T) {
			v := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64(), rapid.Just(0.0)).Draw(t, "v")
			text := c.d.Format(v, c.units...)
			if got, err := c.d.Parse(text); err != nil || got != c.d.Clean(v) {
				t.Fatalf("%v is written %q and reads %v, %v", v, text, got, err)
			}
		})
	}
}

// Figures that people write come back as they would write them.
func TestFormatIsPlain(t *testing.T) {
	t.Parallel()
	for want, got := range map[string]string{
		"4.62 m":       quantity.Lengths.Format(4.62),
		"20 °C":        quantity.Temperatures.Format(293.15, "°C"),
		"60°":          quantity.Angles.Format(degrees(60), "°"),
		"12.5 mm":      quantity.Lengths.Format(0.0125, "mm", "µm"),
		"100 µm":       quantity.Lengths.Format(1e-4, "µm"),
		"6 kPa·s/m²":   quantity.Resistivities.Format(6000, "kPa·s/m²"),
		"3 %":          quantity.Ratios.Format(0.03, "%"),
		"1e-09 m":      quantity.Lengths.Format(1e-9),
		"289.8166 K":   quantity.Temperatures.Format(289.8166),
		"1 rad":        quantity.Angles.Format(1, "°"),
		"0.1 to 0.2 m": strings.Replace(formatRange(model.Range{Min: 0.1, Max: 0.2}, lengthValue.format), "0.1 m", "0.1", 1),
	} {
		if got != want {
			t.Errorf("written %q, want %q", got, want)
		}
	}
}
