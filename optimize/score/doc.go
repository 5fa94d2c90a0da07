// Package score computes the figures of a layout: the spread at each seat, the robust spread
// that a search minimises, tolerances and everything else that a [Candidate] holds. A project,
// an engine and a layout go in ([Evaluate]); figures in dB, Hz and m come out.
//
// A [Band] is an engine limited to the frequencies of a goal. A [Scorer] computes the spread
// of layouts by one engine, as marked ("plain") or averaged over small displacements of each
// mark ("robust"). Seats beside the main one are judged at their mark and SeatOffset around it.
package score
