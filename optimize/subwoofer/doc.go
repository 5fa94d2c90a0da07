// Package subwoofer searches for the places and settings of one or more subwoofers, with the pair
// and the seats where they are. A project, an engine and a layout go in ([Search]); a [Result]
// comes out with the best [Plan] for each number of subwoofers.
//
// A [Setting] is gain in dB against one speaker of the pair, polarity, delay in s and low-pass in
// Hz. All loudspeakers are flat above their low limits: their contributions add up as equal volume
// acceleration.
package subwoofer
