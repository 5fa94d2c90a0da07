package unit

import (
	"math"
	"strings"
)

// Exact factors of the international yard and pound agreement of 1959.
const (
	inch  = 0.0254
	Pound = 0.45359237
)

// Thickness writes the thickness of a layer in m: "200 mm", "12.5 mm", a film's "100 µm";
// "7 7/8 in", "3.9 mil".
func (s Style) Thickness(m float64) string {
	if m < 0.0005 {
		return s.Join(Decimal(m*1e6, 0)+" µm", Decimal(m/inch*1000, 1)+" mil")
	}
	metric := millimetres(m)
	if m < 0.01 {
		return s.Join(metric, Decimal(m/inch, 2)+" in")
	}
	return s.Join(metric, FeetInches(m))
}

// ThicknessCell is Thickness for a table, where film stands beside wool: every cell in
// millimetres or every cell in inches.
func (s Style) ThicknessCell(m float64) string {
	if m < 0.0005 {
		return s.Join(strings.TrimRight(Decimal(1000*m, 3), "0")+" mm", Decimal(m/inch, 4)+" in")
	}
	if m < 0.01 {
		return s.Join(millimetres(m), Decimal(m/inch, 2)+" in")
	}
	return s.Join(millimetres(m), inchesOnly(m)+" in")
}

// millimetres writes a length in mm, with one decimal below 100 mm where it has one.
func millimetres(m float64) string {
	places := 1
	if m >= 0.1 {
		places = 0
	}
	return strings.TrimSuffix(Decimal(m*1000, places), ".0") + " mm"
}

// inchesOnly writes a length in inches to the nearest 1/8: "47 1/4".
func inchesOnly(m float64) string {
	return strings.TrimSuffix(inches(int64(math.Round(m/inch*8)), 8, false), " in")
}

// Sides writes lengths with a cross between them: "60 × 120 × 20 cm".
func (s Style) Sides(lengths ...float64) string {
	var metric, imperial []string
	for _, l := range lengths {
		metric = append(metric, strings.TrimSuffix(Decimal(100*l, 1), ".0"))
		imperial = append(imperial, inchesOnly(l))
	}
	return s.Join(strings.Join(metric, " × ")+" cm", strings.Join(imperial, " × ")+" in")
}

// Mass writes a mass in kg.
func (s Style) Mass(kg float64) string {
	return s.Join(Decimal(kg, 1)+" kg", Decimal(kg/Pound, 1)+" lb")
}

// MassPerArea writes a mass per area in kg/m².
func (s Style) MassPerArea(kg float64) string {
	places := 1
	if kg < 1 {
		places = 2
	}
	return s.Join(Decimal(kg, places)+" kg/m²", Decimal(kg*0.3048*0.3048/Pound, places+1)+" lb/sq ft")
}

// Density writes a density in kg/m³.
func (s Style) Density(rho float64) string {
	return s.Join(Decimal(rho, 0)+" kg/m³", Decimal(poundsPerCubicFoot(rho), 1)+" lb/cu ft")
}

// Densities writes a range of densities in kg/m³.
func (s Style) Densities(low, high float64) string {
	return s.Join(Decimal(low, 0)+" to "+Decimal(high, 0)+" kg/m³",
		Decimal(poundsPerCubicFoot(low), 1)+" to "+Decimal(poundsPerCubicFoot(high), 1)+" lb/cu ft")
}

func poundsPerCubicFoot(rho float64) float64 { return rho * 0.3048 * 0.3048 * 0.3048 / Pound }
