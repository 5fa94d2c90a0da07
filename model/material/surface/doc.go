// Package surface turns the surfaces of a room into boundaries. A room goes in ([Box], [NewSurfaces],
// [NewDrawn]); a box with one admittance for each wall comes out, openings and treatments mixed in by
// area, and the warnings that this deserves.
package surface
