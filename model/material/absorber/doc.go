// Package absorber computes layered absorbers: porous layers, films, air gaps, pierced sheets and
// panels, by transfer matrices. Layers of the room file go in ([NewStack], [NewVariants]); surface
// impedance, absorption at normal, oblique and random incidence, resonances and plain-word
// explanations come out.
//
// Impedances are specific, ζ = Z/(ρc); angles are in rad from the normal; σ is flow resistivity in
// Pa·s/m²; the convention is e^{+jωt}.
package absorber
