// Package image computes the sound field of a box room by mirror images of the
// source. In go a [model.Box] with uniform walls and a grid of frequencies; out come the
// transfers from any source to a seat. A wall can be taken out, which says whether it
// causes a dip.
//
// # Symbols
//
//	n        cell of the lattice of mirrored rooms on one axis; the room is n = 0
//	X, Y, Z  from the seat to an image of the source, m
//	r        sqrt(X² + Y² + Z²), the length of the path, m
//	cosθ     |X|/r for the two walls normal to x, likewise y and z
//	β        specific admittance of a wall at a frequency
//	R        plane-wave reflection factor (cosθ - β)/(cosθ + β)
//	A        product over the six walls of R to the number of hits
//	k        wavenumber (ω/c)(1 - jη) with the losses of the air
//	p        pressure per unit volume velocity of the source, Pa·s/m³
//
// The field is the sum over all images,
//
//	p = jωρ Σ A e^{-jkr} / (4πr)                Allen & Berkley 1979, with R
//	                                            of the angle in place of one R
//
// It is exact when every wall is rigid. Otherwise a spherical wave that meets a
// wall is treated as the plane wave of the same angle, which is poor near grazing
// incidence; [Engine.Warnings] says when that matters.
//
// # How it is summed
//
// The images are counted in the hundred thousands, so no image is evaluated at
// every frequency. In the order of the work:
//
//  1. reach.go finds the length at which enough of the energy has arrived;
//  2. bands.go finds the few frequencies at which A must be known, one if no wall's
//     β changes with frequency;
//  3. table.go tabulates R^a R^b per axis, count of hits and cosθ;
//  4. lattice.go lists the images per axis, spread.go goes through all triples
//     within the length and adds each to a uniform series of samples in time
//     through a short smooth kernel (kernel.go);
//  5. transform.go takes that series to the grid's frequencies and divides by
//     the kernel's transform.
//
// Steps 4 and 5 are a non-uniform Fourier transform of the first type (Dutt &
// Rokhlin, SIAM J. Sci. Comput. 14, 1993) with the kernel of Jackson et al.,
// IEEE Trans. Med. Imaging 10, 1991.
package image
