package report

import "strings"

// Exact factors of the international yard and pound agreement of 1959.
const (
	inch  = 0.0254
	pound = 0.45359237
)

// The piece whose weight is given: a common size of slab, 1.2 m × 0.6 m.
const (
	pieceLength = 1.2
	pieceWidth  = 0.6
)

// piece names the size of the piece.
func (s Style) piece() string { return s.join("1.2 × 0.6 m", "47 × 24 in") }

// thickness writes the thickness of a layer in m: "200 mm", "12.5 mm", a film's "100 µm";
// "7 7/8 in", "3.9 mil".
func (s Style) thickness(m float64) string {
	if m < 0.0005 {
		return s.join(decimal(m*1e6, 0)+" µm", decimal(m/inch*1000, 1)+" mil")
	}
	places := 1
	if m >= 0.1 {
		places = 0
	}
	metric := strings.TrimSuffix(decimal(m*1000, places), ".0") + " mm"
	if m < 0.01 {
		return s.join(metric, decimal(m/inch, 2)+" in")
	}
	return s.join(metric, FeetInches(m))
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
	return s.join(decimal(rho, 0)+" kg/m³", decimal(rho*0.3048*0.3048*0.3048/pound, 1)+" lb/cu ft")
}
