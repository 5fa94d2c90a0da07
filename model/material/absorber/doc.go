// Package absorber predicts what layers of wool, film, air, perforated sheet and panel
// absorb. Layers and what they stand on go in; surface impedance, absorption at any
// angle, weights and sentences that explain them come out, with the range of what is
// not known of the wool. One table lists the kinds of layers, see [Kind].
//
// [NewStack] solves layers by transfer matrices: every porous layer is one equivalent
// fluid, its skeleton held or limp. [NewVariants] adds the range, [Explain] the
// sentences, [Stack.Pieces] what a time-domain solver draws. Predictions hold for an
// infinite area; a sample of 10 m² in a reverberation room shows up to twice as much,
// because its edges absorb too.
//
// # Symbols
//
//	Zc, k        characteristic impedance and wavenumber in a layer, Pa·s/m, 1/m
//	ρ, K         effective density and bulk modulus in a layer, kg/m³, Pa
//	σ            flow resistivity, Pa·s/m²
//	φ, α∞        porosity, tortuosity
//	Λ, Λ'        viscous and thermal characteristic length, m
//	ρ1           bulk density of the skeleton, kg/m³
package absorber
