package unit

import "testing"

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
