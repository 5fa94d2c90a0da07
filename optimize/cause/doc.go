// Package cause finds what makes the dips of a layout and what would cure them. A candidate, its
// engine and the room go in ([Explain], [ExplainWalls], [Remedies]); each [Dip] comes out with its
// causes, what shifts it and the best remedy, all as values that package report puts into words.
//
// A cause is a [Suspect] without which the dip shrinks by half and by 3 dB: a boundary made
// absorbing, or a mode left out. Distances are in m, frequencies in Hz, changes of level in dB.
package cause
