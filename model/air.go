package model

import "math"

// ReferenceTemperature is 20 °C in kelvin, the temperature of a room that
// names none.
const ReferenceTemperature = 293.15

// Air is the medium that fills the room.
type Air struct {
	Speed   float64 // speed of sound c, m/s
	Density float64 // ρ, kg/m³

	// Loss is η in k = (ω/c)(1 - jη). Zero is lossless. Below 300 Hz real air
	// loses less than 2 dB per kilometre (ISO 9613-1:1993), so η stands in for
	// all the small losses that have no wall of their own, or for a test.
	Loss float64
}

// AirAt returns dry air at the given temperature in kelvin and standard
// pressure (101325 Pa). A temperature of zero means [ReferenceTemperature].
//
//	c = 343.2 sqrt(T/293.15)      ISO 9613-1:1993
//	ρ = 101325 / (287.05287 T)    ideal gas, ISO 2533:1975
func AirAt(kelvin float64) Air {
	if kelvin == 0 {
		kelvin = ReferenceTemperature
	}
	return Air{
		Speed:   343.2 * math.Sqrt(kelvin/ReferenceTemperature),
		Density: 101325 / (287.05287 * kelvin),
	}
}

// Impedance returns the characteristic impedance ρc in Pa·s/m.
func (a Air) Impedance() float64 { return a.Density * a.Speed }

// Wavenumber returns k in 1/m at frequency f in Hz; its imaginary part is zero
// or negative.
func (a Air) Wavenumber(f float64) complex128 {
	k := 2 * math.Pi * f / a.Speed
	return complex(k, -k*a.Loss)
}
