// Package table tabulates the field of an engine between all places that a search may ask for.
// An engine and a [Domain] go in; an [Engine] comes out that interpolates the table in
// microseconds and asks the original engine for places outside it.
//
// The table stores the field less the free field of the direct sound, at Chebyshev nodes of
// the seats and of the sources: per seat node, per panel of sources, per source node, real and
// imaginary part by frequency. An area of sources is one panel, or in a wide search several beside one another.
// Its error is bounded in the smoothed level, dB.
//
// A transfer is read in steps, each of which is kept for those that share it: a table summed over the seats' x is
// a column, a column summed over their y a seat, a seat summed over the nodes of one panel a transfer.
package table
