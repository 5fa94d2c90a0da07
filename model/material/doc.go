// Package material says what walls, doors, windows and absorbers do to sound at
// low frequencies: it turns the name of a construction, a table of absorption or
// a build-up of layers into a [model.Boundary], and a room into the [model.Box]
// that the engines work on.
//
// # Symbols
//
//	ζ = r + jx   specific impedance of a surface, Z/(ρc); +Inf is rigid
//	β            1/ζ, specific admittance
//	θ            angle of incidence from the normal, rad
//	R            pressure reflection factor of a plane wave
//	α            absorption, 1 - |R|²: at an angle, at normal incidence, or at
//	             random incidence (diffuse field, Paris integral)
//	T            reverberation time, s
//	f0           resonance of a sheet on the air behind it, Hz
//
// All surfaces are locally reacting, e^{+jωt}, SI units.
//
// # Constructions
//
// [Lookup] finds a [Construction] by name: its random-incidence absorption in
// third octaves from 25 to 315 Hz, as low, typical and high. Tables of building
// materials begin at 125 Hz, and even there two laboratories differ by half the
// value (ISO 12999-2:2020). What is below is carried on by a stated rule for the
// kind of construction, see [Rule], and its range widens as it goes. A table
// holds no phase, so a construction becomes a real impedance: the one on the
// hard side of the Paris integral that takes up as much. What a light wall does
// as a spring or a mass, shifting the lowest modes by a hertz or so, is not in it.
package material
