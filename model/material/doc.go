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
// Boundaries are locally reacting, e^{+jωt}, SI units.
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
//
// # Build-ups
//
// [NewStack] turns layers of wool, film, air, perforated sheet and panel into a
// [Stack] that gives surface impedance and absorption at any angle by transfer
// matrices, every porous layer being one equivalent fluid, its skeleton fixed or
// limp. [NewVariants] carries the range of what is not known of the wool,
// [Explain] says what each piece adds, [FitBranches] puts any boundary into the
// passive masses, resistances and springs that a time-domain solver can carry.
// What such a build-up does is predicted for an infinite one; a sample of 10 m²
// in a reverberation room shows up to twice as much, for its edges.
//
//	σ            flow resistivity, Pa·s/m²
//	φ, α∞        porosity, tortuosity
//	Λ, Λ'        viscous and thermal characteristic length, m
//	ρ1           bulk density of the skeleton, kg/m³
//	Zc, k        characteristic impedance and wavenumber in a layer, Pa·s/m, 1/m
//	ρ, K         effective density and bulk modulus in a layer, kg/m³, Pa
//	M, R, K      mass, resistance and spring of a branch, kg/m², Pa·s/m, Pa/m
package material
