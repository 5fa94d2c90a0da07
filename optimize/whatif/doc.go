// Package whatif compares a room as it is with what options would make of it, speakers and seat
// unchanged. A project, its options and a [Solver] go in ([Compare]); a [Comparison] comes out,
// each [State] with its figures, its decay, its dips and what it takes to build. [ReadyMade]
// returns the options of ready-made comparisons.
//
// Levels are in dB, times in s, lengths in m.
package whatif
