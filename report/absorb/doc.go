// Package absorb shows what build-ups of layers absorb: as a page, as text for a terminal
// and as comma-separated values. A [Report] goes in, one to five build-ups with figures
// that package absorber has computed; what comes out names its recipe, its range and its
// limits. It computes no acoustics.
//
// Build-ups are called A, B, ... in the order given. Absorption is a share of 0 to 1 at
// normal or random incidence; frequencies are in Hz, lengths in m until a text writes them.
package absorb
