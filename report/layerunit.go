package report

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Exact factors of the international yard and pound agreement of 1959.
const (
	inch  = 0.0254
	pound = 0.45359237
)

// thickness writes the thickness of a layer in m: "200 mm", "12.5 mm", a film's "100 µm";
// "7 7/8 in", "3.9 mil".
func (s Style) thickness(m float64) string {
	if m < 0.0005 {
		return s.join(decimal(m*1e6, 0)+" µm", decimal(m/inch*1000, 1)+" mil")
	}
	metric := millimetres(m)
	if m < 0.01 {
		return s.join(metric, decimal(m/inch, 2)+" in")
	}
	return s.join(metric, FeetInches(m))
}

// thicknessCell is thickness for a table, where film stands beside wool: every cell in
// millimetres or every cell in inches.
func (s Style) thicknessCell(m float64) string {
	if m < 0.0005 {
		return s.join(strings.TrimRight(decimal(1000*m, 3), "0")+" mm", decimal(m/inch, 4)+" in")
	}
	if m < 0.01 {
		return s.join(millimetres(m), decimal(m/inch, 2)+" in")
	}
	return s.join(millimetres(m), inchesOnly(m)+" in")
}

// millimetres writes a length in mm, with one decimal below 100 mm where it has one.
func millimetres(m float64) string {
	places := 1
	if m >= 0.1 {
		places = 0
	}
	return strings.TrimSuffix(decimal(m*1000, places), ".0") + " mm"
}

// inchesOnly writes a length in inches to the nearest 1/8: "47 1/4".
func inchesOnly(m float64) string {
	return strings.TrimSuffix(inches(int64(math.Round(m/inch*8)), false), " in")
}

// sides writes lengths with a cross between them: "60 × 120 × 20 cm".
func (s Style) sides(lengths ...float64) string {
	var metric, imperial []string
	for _, l := range lengths {
		metric = append(metric, strings.TrimSuffix(decimal(100*l, 1), ".0"))
		imperial = append(imperial, inchesOnly(l))
	}
	return s.join(strings.Join(metric, " × ")+" cm", strings.Join(imperial, " × ")+" in")
}

// roomSize writes length, width and height of a room with a cross between them.
func (s Style) roomSize(size r3.Vec) string {
	return s.Length(size.X) + " × " + s.Length(size.Y) + " × " + s.Length(size.Z)
}

// mass writes a mass in kg.
func (s Style) mass(kg float64) string {
	return s.join(decimal(kg, 1)+" kg", decimal(kg/pound, 1)+" lb")
}

// massPerArea writes a mass per area in kg/m².
func (s Style) massPerArea(kg float64) string {
	places := 1
	if kg < 1 {
		places = 2
	}
	return s.join(decimal(kg, places)+" kg/m²", decimal(kg*0.3048*0.3048/pound, places+1)+" lb/sq ft")
}

// density writes a density in kg/m³.
func (s Style) density(rho float64) string {
	return s.join(decimal(rho, 0)+" kg/m³", decimal(poundsPerCubicFoot(rho), 1)+" lb/cu ft")
}

// densities writes a range of densities in kg/m³.
func (s Style) densities(low, high float64) string {
	return s.join(decimal(low, 0)+" to "+decimal(high, 0)+" kg/m³",
		decimal(poundsPerCubicFoot(low), 1)+" to "+decimal(poundsPerCubicFoot(high), 1)+" lb/cu ft")
}

func poundsPerCubicFoot(rho float64) float64 { return rho * 0.3048 * 0.3048 * 0.3048 / pound }
