// Package material knows what walls, floors, doors and windows absorb at low
// frequencies. The name of a construction or a table of absorption goes in, a
// [model.Boundary] with its range and source comes out. Packages below it know
// absorbers in layers ([evenbass/model/material/absorber]), the surfaces of a room
// ([evenbass/model/material/surface]) and walls for a time-domain solver
// ([evenbass/model/material/fit]).
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
// Boundaries react locally, e^{+jωt}, SI units.
//
// # Constructions
//
// [Lookup] finds a [Construction] by name: its random-incidence absorption in
// third octaves from 25 to 315 Hz, as low, typical and high. Tables of building
// materials begin at 125 Hz, and even there two laboratories differ by half the
// value (ISO 12999-2:2020). Below that, a [Rule] for the kind of construction
// extrapolates, and the range widens. A table holds no phase, so a construction
// becomes a real impedance: of the two that absorb as much at random incidence, the
// harder one. A light wall also acts as a spring or a mass and shifts the lowest
// modes by a hertz or so; that is left out.
package material
