// Package stage plans what to build first from the batts in hand. A project with stock and a
// [Solver] go in ([NewPlanner]); a [Plan] comes out: pieces in the order that gains most per batt
// first, each with the [State] of the room after it, and what is best left out.
//
// A [Piece] is one treatment or two that mirror each other. Pieces compete by their score: the
// robust spread in dB plus [State.DecayWeight] times the audible excess decay in s.
package stage
