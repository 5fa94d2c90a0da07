package unit

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
)

// Style is the system of units in which lengths, areas and temperatures are
// written. Frequencies, levels and times are the same in all.
type Style int

// The styles. The zero value is metric.
const (
	Metric   Style = iota // 1.42 m, 142 cm, 20 °C
	Imperial              // 4 ft 7 7/8 in, 68 °F
	Both                  // 1.42 m (4 ft 7 7/8 in)
)

var styleNames = [...]string{"metric", "imperial", "both"}

// String returns "metric", "imperial" or "both".
func (s Style) String() string {
	if s < Metric || s > Both {
		return fmt.Sprintf("Style(%d)", int(s))
	}
	return styleNames[s]
}

// ParseStyle returns the style of that name.
func ParseStyle(name string) (Style, error) {
	for i, n := range styleNames {
		if n == name {
			return Style(i), nil
		}
	}
	return 0, fmt.Errorf("no units are called %q; the units are metric, imperial, both", name)
}

// Join writes a quantity in the style's own unit, or in both.
func (s Style) Join(metric, imperial string) string {
	switch s {
	case Imperial:
		return imperial
	case Both:
		return metric + " (" + imperial + ")"
	}
	return metric
}

// Length writes a length in m as read aloud: "1.42 m", "4 ft 7 7/8 in".
func (s Style) Length(m float64) string {
	return s.Join(Decimal(m, 2)+" m", FeetInches(m))
}

// Fine writes a small length in m to the millimetre: "1.5 cm", "5/8 in".
func (s Style) Fine(m float64) string { return s.Join(Decimal(100*m, 1)+" cm", FeetInches(m)) }

// Tape writes a length in m as read off a tape: "142 cm", "4 ft 8 in".
func (s Style) Tape(m float64) string {
	return s.Join(centimetres(m), taped(m))
}

// centimetres writes a length in m in whole centimetres. Lengths count to a tenth of a
// millimetre, so that two halves of a centimetre round the same way however they were computed.
func centimetres(m float64) string { return Decimal(wholeCentimetres(m), 0) + " cm" }

func wholeCentimetres(m float64) float64 { return math.Round(math.Round(m*1e4) / 100) }

// Plan writes a length in m for a drawing, where room is scarce: centimetres (also
// where both units are asked for), or feet and inches by their marks, 4' 8".
func (s Style) Plan(m float64) string {
	if s == Imperial {
		return feetInchMarks(m)
	}
	return Metric.Tape(m)
}

// SmallArea writes an area in m² to the square decimetre.
func (s Style) SmallArea(m2 float64) string {
	return s.Join(Decimal(m2, 2)+" m²", Decimal(m2/(12*inch*12*inch), 1)+" sq ft")
}

// Area writes an area in m².
func (s Style) Area(m2 float64) string {
	return s.Join(Decimal(m2, 1)+" m²", Decimal(m2/(0.3048*0.3048), 0)+" sq ft")
}

// Volume writes a volume in m³.
func (s Style) Volume(m3 float64) string {
	return s.Join(Decimal(m3, 1)+" m³", Decimal(m3/(0.3048*0.3048*0.3048), 0)+" cu ft")
}

// Temperature writes a temperature in K; 0 means [model.ReferenceTemperature].
func (s Style) Temperature(kelvin float64) string {
	if kelvin == 0 {
		kelvin = model.ReferenceTemperature
	}
	c := kelvin - 273.15
	return s.Join(Decimal(c, 0)+" °C", Decimal(c*9/5+32, 0)+" °F")
}

// Degrees writes a difference of temperatures in K: "4 °C", "7 °F".
func (s Style) Degrees(kelvin float64) string {
	return s.Join(Decimal(kelvin, 0)+" °C", Decimal(kelvin*9/5, 0)+" °F")
}

// Speed writes a speed in m/s: "343.2 m/s", "1126 ft/s".
func (s Style) Speed(ms float64) string {
	return s.Join(Decimal(ms, 1)+" m/s", Decimal(ms/0.3048, 0)+" ft/s")
}

// quarter is how finely lengths are taped in feet and inches: a quarter of an inch is a little
// finer than the whole centimetres of the metric style, and every tape has marks for it.
const quarter = inch / 4

func wholeQuarters(m float64) float64 { return math.Round(m / inch * 4) }

// taped writes a length in m in feet and inches to the nearest 1/4 in.
func taped(m float64) string { return feetInches(m, 4) }

// FeetInches writes a length in m in feet and inches to the nearest 1/8 in, the
// fraction in lowest terms: "4 ft 7 7/8 in", "1 ft 0 in", "3/8 in".
func FeetInches(m float64) string { return feetInches(m, 8) }

// feetInches writes a length in m in feet and inches, to so many parts of an inch.
func feetInches(m float64, parts int64) string {
	if math.IsNaN(m) || math.IsInf(m, 0) {
		return Unknown
	}
	n := int64(math.Round(math.Abs(m) / inch * float64(parts)))
	foot := 12 * parts
	text := inches(n%foot, parts, n >= foot)
	if feet := n / foot; feet > 0 {
		text = fmt.Sprintf("%d ft %s", feet, text)
	}
	if m < 0 && n > 0 {
		return Minus + text
	}
	return text
}

// inches writes less than a foot, given in parts of an inch. After feet, whole
// inches are always named.
func inches(n, parts int64, afterFeet bool) string {
	whole, part := n/parts, n%parts
	if part == 0 {
		return fmt.Sprintf("%d in", whole)
	}
	for part%2 == 0 {
		part, parts = part/2, parts/2
	}
	if whole == 0 && !afterFeet {
		return fmt.Sprintf("%d/%d in", part, parts)
	}
	return fmt.Sprintf("%d %d/%d in", whole, part, parts)
}

// Frequency writes a frequency in Hz: one decimal below 100 Hz, none above.
func Frequency(hz float64) string {
	if math.Round(hz*10) < 1000 {
		return Decimal(hz, 1) + " Hz"
	}
	return Decimal(hz, 0) + " Hz"
}

// ReachText writes a low-end reach; what begins with the grid may go on below it.
func ReachText(hz float64) string {
	if low := model.DefaultGrid()[0]; hz <= low {
		return "≤ " + Nominal(low)
	}
	return Frequency(hz)
}

// Decibels writes a level with its sign, a true minus: "−3.2 dB", "+1.0 dB".
func Decibels(l model.Level) string {
	text := Decimal(float64(l), 1)
	if l > 0 && strings.Trim(text, "0.") != "" {
		text = "+" + text
	}
	return text + " dB"
}

// Difference writes a level difference whose sign the words around it give.
func Difference(l model.Level) string { return Decimal(float64(l), 1) + " dB" }

// Spread writes half a range: "±4.6 dB".
func Spread(l model.Level) string { return "±" + Decimal(math.Abs(float64(l)), 1) + " dB" }

// Seconds writes a time in s: "0.45 s".
func Seconds(s float64) string { return Decimal(s, 2) + " s" }

// Octaves writes a width in octaves as a plain fraction where it is near one:
// "1/6 octave", "1.4 octaves".
func Octaves(width float64) string {
	if width > 0.6 {
		return Decimal(width, 1) + " octaves"
	}
	if width <= 1.0/48 || math.IsNaN(width) {
		return "less than 1/48 octave"
	}
	return fmt.Sprintf("1/%d octave", max(1, int(math.Round(1/width))))
}

const (
	Minus   = "\u2212" // a minus sign, not a hyphen: it is as wide as a plus and is read aloud
	Unknown = "n/a"
)

// Cell writes a length for a table: centimetres, or feet and inches by their
// marks; one above the other for both.
func (s Style) Cell(m float64) string {
	return s.cell(centimetres(m), feetInchMarks(m))
}

// RangeCell is [Style.Cell] for what reaches from one distance to another: "20 to 200 cm".
func (s Style) RangeCell(from, to float64) string {
	return s.cell(strings.TrimSuffix(centimetres(from), " cm")+" to "+centimetres(to), feetInchMarks(from)+" to "+feetInchMarks(to))
}

// RestCell is [Style.Cell] for what a distance leaves of a whole: as written, both add up to
// the whole as written.
func (s Style) RestCell(whole, part float64) string {
	return s.cell(centimetres(Metric.Rest(whole, part)), feetInchMarks(Imperial.Rest(whole, part)))
}

// Rest returns what distances leave of a whole, m, so that all add up as [Style.Plan] writes
// them.
func (s Style) Rest(whole float64, parts ...float64) float64 {
	step, steps := 0.01, wholeCentimetres
	if s == Imperial {
		step, steps = quarter, wholeQuarters
	}
	left := steps(whole)
	for _, p := range parts {
		left -= steps(p)
	}
	return left * step
}

func (s Style) cell(metric, imperial string) string {
	switch s {
	case Imperial:
		return imperial
	case Both:
		return metric + "\n" + imperial
	}
	return metric
}

// feetInchMarks is taped with marks for the words: 4' 7 3/4".
func feetInchMarks(m float64) string {
	return strings.NewReplacer(" ft", "'", " in", `"`).Replace(taped(m))
}

// Tick writes the length at a mark of a ruler: "2 m", "6 ft".
func (s Style) Tick(m float64) string {
	if s == Imperial {
		return Decimal(m/0.3048, 0) + " ft"
	}
	return Decimal(m, 0) + " m"
}

// Ruler writes a length in m along an edge, roughly: "120 cm", "4.0 ft".
func (s Style) Ruler(m float64) string {
	if s == Imperial {
		return Decimal(m/0.3048, 1) + " ft"
	}
	return Decimal(m*100, 0) + " cm"
}

// DecibelsOnly is a spread without its unit, for the first of two.
func DecibelsOnly(l model.Level) string { return "±" + Decimal(float64(l), 1) }

// Degrees writes an angle in rad: "12°", "0.4°".
func Degrees(rad float64) string {
	v, places := rad*180/math.Pi, 1
	if v >= 9.95 {
		places = 0
	}
	return Decimal(v, places) + "°"
}
