// Package search finds the best of the layouts that a project allows, whatever scores them.
//
// A [model.Project] and a function that scores a legal layout go in; different layouts come out, the best
// first ([Archive.Distinct]), or an [*Infeasible] that says which rule to relax. [Problem] holds what may be
// chosen and decodes a point of the unit cube into a [model.Layout]; [Problem.Breed] breeds a population of these
// points; [Problem.Polish] moves a layout by centimetres. Lengths are in m, on a lattice of [Pitch]; a score is in
// dB, the smaller the better, and [Illegal] or more for a layout that breaks rules.
//
// The same seed gives the same layouts on any number of cores, if the score is a pure function of the layout.
package search
