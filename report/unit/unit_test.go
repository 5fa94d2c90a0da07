package unit

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
)

func ExampleStyle_Length() {
	for _, s := range []Style{Metric, Imperial, Both} {
		fmt.Println(s.Length(1.42))
	}
	// Output:
	// 1.42 m
	// 4 ft 7 7/8 in
	// 1.42 m (4 ft 7 7/8 in)
}

// One inch is 25.4 mm exactly (international yard and pound agreement, 1959), so
// all of these are arithmetic.
func TestFeetInches(t *testing.T) {
	for _, c := range []struct {
		inches float64
		want   string
	}{
		{0, "0 in"}, {0.05, "0 in"}, {0.0626, "1/8 in"}, {0.25, "1/4 in"}, {0.5, "1/2 in"}, {0.875, "7/8 in"},
		{1, "1 in"}, {1.375, "1 3/8 in"}, {11.9, "11 7/8 in"},
		{11.99, "1 ft 0 in"}, {12, "1 ft 0 in"}, {12.125, "1 ft 0 1/8 in"}, {23.96, "2 ft 0 in"}, {134, "11 ft 2 in"},
		{-6.5, Minus + "6 1/2 in"}, {-0.01, "0 in"},
	} {
		if got := FeetInches(c.inches * 0.0254); got != c.want {
			t.Errorf("%v in is written %q, want %q", c.inches, got, c.want)
		}
	}
	if got := FeetInches(math.NaN()); got != Unknown {
		t.Errorf("no number is written %q", got)
	}
}

// What is written is never further from the length than half of 1/8 in, has less
// than 12 in, and its fraction is in lowest terms.
func TestFeetInchesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(0, 30).Draw(t, "m")
		text := FeetInches(m)
		var feet, whole, num int
		den := 1
		rest := text
		if i := strings.Index(rest, " ft "); i >= 0 {
			fmt.Sscan(rest[:i], &feet)
			rest = rest[i+4:]
		}
		rest = strings.TrimSuffix(rest, " in")
		fields := strings.Fields(rest)
		if n := fields[len(fields)-1]; strings.Contains(n, "/") {
			fmt.Sscanf(n, "%d/%d", &num, &den)
			fields = fields[:len(fields)-1]
		}
		if len(fields) == 1 {
			fmt.Sscan(fields[0], &whole)
		}
		got := (float64(feet)*12 + float64(whole) + float64(num)/float64(den)) * 0.0254
		if math.Abs(got-m) > 0.0254/16+1e-12 || whole > 11 || num > 0 && num%2 == 0 || den > 8 {
			t.Fatalf("%v m is written %q, which is %v m", m, text, got)
		}
	})
}

func TestStyles(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Metric.Tape(1.42), "142 cm"}, {Metric.Tape(0.9951), "100 cm"}, {Imperial.Plan(1.42), `4' 8"`},
		{Both.Plan(1.42), "142 cm"}, {Both.Tape(0.3048), "30 cm (1 ft 0 in)"}, {Both.Cell(0.3048), "30 cm\n1' 0\""},
		{Metric.RangeCell(0.2, 2), "20 to 200 cm"}, {Imperial.RangeCell(0, 0.3048), "0\" to 1' 0\""}, {Both.RangeCell(0, 0.3048), "0 to 30 cm\n0\" to 1' 0\""},
		{Metric.Area(14.19), "14.2 m²"}, {Imperial.Area(9.290304), "100 sq ft"}, {Imperial.Volume(2.8316846592), "100 cu ft"},
		{Both.Volume(34.8), "34.8 m³ (1229 cu ft)"},
		{Metric.Temperature(293.15), "20 °C"}, {Imperial.Temperature(293.15), "68 °F"}, {Metric.Temperature(0), "20 °C"},
		{Imperial.Temperature(233.15), Minus + "40 °F"},
	} {
		if c.got != c.want {
			t.Errorf("written %q, want %q", c.got, c.want)
		}
	}
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Frequency(37.26), "37.3 Hz"}, {Frequency(99.96), "100 Hz"}, {Frequency(299.6), "300 Hz"},
		{Decibels(-3.24), Minus + "3.2 dB"}, {Decibels(3.25001), "+3.3 dB"}, {Decibels(-0.04), "0.0 dB"}, {Decibels(0.04), "0.0 dB"},
		{Decibels(model.Level(math.Inf(-1))), Minus + "∞ dB"}, {Difference(2), "2.0 dB"},
		{Spread(4.56), "±4.6 dB"}, {Spread(-0.01), "±0.0 dB"}, {Spread(model.Level(math.NaN())), "±n/a dB"},
		{Seconds(0.451), "0.45 s"}, {Octaves(1.0 / 6), "1/6 octave"}, {Octaves(1.44), "1.4 octaves"},
		{Octaves(0.001), "less than 1/48 octave"}, {Octaves(0.96), "1.0 octaves"}, {Octaves(0.6), "1/2 octave"}, {Octaves(0.68), "0.7 octaves"},
	} {
		if c.got != c.want {
			t.Errorf("written %q, want %q", c.got, c.want)
		}
	}
}

func TestParseStyle(t *testing.T) {
	for _, s := range []Style{Metric, Imperial, Both} {
		if got, err := ParseStyle(s.String()); err != nil || got != s {
			t.Errorf("%q is read as %v, %v", s, got, err)
		}
	}
	if _, err := ParseStyle("cubits"); err == nil || !strings.Contains(err.Error(), "metric, imperial, both") {
		t.Errorf("an unknown style gives %v", err)
	}
}

// A number is never written with a hyphen for a minus, nor as a negative zero.
func TestDecimalSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-50, 50).Draw(t, "v")
		places := rapid.IntRange(0, 3).Draw(t, "places")
		text := Decimal(v, places)
		var back float64
		if _, err := fmt.Sscan(strings.Replace(text, Minus, "-", 1), &back); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(text, "-") || back == 0 && strings.Contains(text, Minus) || math.Abs(back-v) > 0.5001*math.Pow(10, -float64(places)) {
			t.Fatalf("%v is written %q", v, text)
		}
	})
}

// Every distance and what it leaves of a room add up as written, halves of the finest step too.
func TestRestAddsUpEverywhere(t *testing.T) {
	t.Parallel()
	for _, style := range []Style{Metric, Imperial} {
		step := map[Style]float64{Metric: 0.01, Imperial: quarter}[style]
		written := func(m float64) (n int) {
			var feet, inches, fourths int
			text := style.Cell(m)
			if style == Metric {
				fmt.Sscanf(text, "%d cm", &n)
				return n
			}
			text = strings.NewReplacer(" 1/4\"", " 1", " 1/2\"", " 2", " 3/4\"", " 3", "\"", " 0").Replace(text)
			if got, err := fmt.Sscanf(text, "%d' %d %d", &feet, &inches, &fourths); got != 3 {
				t.Fatalf("%q: %v", text, err)
			}
			return 48*feet + 4*inches + fourths
		}
		whole := 295.3 * step * 4
		for k := 250; k < 1500; k++ {
			part := float64(k) * step / 2
			if got, want := written(part)+written(style.Rest(whole, part)), written(whole); got != want {
				t.Fatalf("%v: %s and %s of %s", style, style.Cell(part), style.Cell(style.Rest(whole, part)), style.Cell(whole))
			}
		}
	}
}

// What two distances leave of a room adds up with them as written, in either unit, and halves
// of a centimetre round alike however they were computed; by hand.
func TestRestAddsUp(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Metric.Cell(1.281), "128 cm"}, {Metric.RestCell(3.666, 1.281), "239 cm"}, {Metric.Cell(3.666), "367 cm"},
		{Metric.RestCell(3.15, 1.575), "157 cm"}, {Metric.Plan(Metric.Rest(3.15, 0.475, 0.475)), "219 cm"},
		{Imperial.RestCell(144.06*0.0254, 47.06*0.0254), `8' 1"`}, {Imperial.Plan(Imperial.Rest(144.06*0.0254, 47.06*0.0254)), `8' 1"`},
		{Metric.Tape(0.95 - 0.475), "48 cm"}, {Metric.Tape(2.675 - 2.2), "48 cm"}, {Metric.Tape(0.185 - 1e-9), "19 cm"},
	} {
		if c.got != c.want {
			t.Errorf("written %q, want %q", c.got, c.want)
		}
	}
}

// Inch and pound are 25.4 mm and 0.45359237 kg (international agreement, 1959): all
// of these are arithmetic.
func TestLayerUnits(t *testing.T) {
	for _, test := range []struct{ got, want string }{
		{Metric.Thickness(100e-6), "100 µm"}, {Imperial.Thickness(101.6e-6), "4.0 mil"}, {Metric.Thickness(0.0125), "12.5 mm"},
		{Metric.Thickness(0.2501), "250 mm"}, {Imperial.Thickness(0.2032), "8 in"}, {Metric.Thickness(0.006), "6 mm"},
		{Imperial.Thickness(0.00635), "0.25 in"}, {Both.Thickness(0.1016), "102 mm (4 in)"},
		{Metric.MassPerArea(0.092), "0.09 kg/m²"}, {Metric.MassPerArea(8.8), "8.8 kg/m²"}, {Imperial.MassPerArea(8.8), "1.80 lb/sq ft"},
		{Imperial.Mass(0.45359237), "1.0 lb"}, {Metric.Mass(2.345), "2.3 kg"}, {Imperial.Density(48), "3.0 lb/cu ft"}, {Metric.Density(48), "48 kg/m³"},
		{Metric.ThicknessCell(100e-6), "0.1 mm"}, {Metric.ThicknessCell(25e-6), "0.025 mm"}, {Metric.ThicknessCell(0.2), "200 mm"},
		{Imperial.ThicknessCell(101.6e-6), "0.0040 in"}, {Imperial.ThicknessCell(1.2192), "48 in"},
		{Imperial.Sides(1.2192, 0.6096, 0.0889), "48 × 24 × 3 1/2 in"}, {Metric.Sides(0.594, 2.4), "59.4 × 240 cm"},
		{Metric.Densities(36, 44), "36 to 44 kg/m³"}, {Imperial.Densities(48, 96), "3.0 to 6.0 lb/cu ft"},
	} {
		if test.got != test.want {
			t.Errorf("written %q, want %q", test.got, test.want)
		}
	}
}
