package model

import (
	"math"
	"testing"
)

// ISO 9613-1:1993 (reference speed 343.2 m/s at 293.15 K); values recomputed
// from c = 343.2 sqrt(T/293.15).
func TestAirAtSpeed(t *testing.T) {
	for _, c := range []struct{ celsius, speed float64 }{
		{0, 331.2859}, {15, 340.2606}, {20, 343.2000}, {25, 346.1145}, {30, 349.0046},
	} {
		got := AirAt(c.celsius + 273.15).Speed
		if math.Abs(got-c.speed) > 1e-3 {
			t.Errorf("speed at %v °C = %.4f m/s, want %.4f", c.celsius, got, c.speed)
		}
	}
}

// ISO 2533:1975 standard atmosphere (from memory): 1.225 kg/m³ at 288.15 K.
func TestAirAtDensity(t *testing.T) {
	if got := AirAt(288.15).Density; math.Abs(got-1.225) > 1e-5 {
		t.Errorf("density at 15 °C = %.6f kg/m³, want 1.225", got)
	}
	if AirAt(0) != AirAt(ReferenceTemperature) {
		t.Error("a temperature of zero must mean the reference temperature")
	}
}

// Ideal dry air at 20 °C has ρc = 413.29 Pa·s/m (computed from γP0 = ρc²); ISO's
// rounded reference speed moves it by 0.01 %.
func TestAirImpedance(t *testing.T) {
	if got := AirAt(0).Impedance(); math.Abs(got-413.2898) > 0.05 {
		t.Errorf("ρc = %.4f, want 413.2898", got)
	}
}

func TestWavenumberDecays(t *testing.T) {
	a := Air{Speed: 343, Density: 1.21, Loss: 0.05}
	k := a.Wavenumber(100)
	if want := 2 * math.Pi * 100 / 343; math.Abs(real(k)-want) > 1e-12 || math.Abs(imag(k)+0.05*want) > 1e-12 {
		t.Errorf("k = %v, want %v (1 - 0.05j)", k, want)
	}
}
