// Package plan works out what the owner of one room does, in the order in which it is done: move
// speakers and seat, treat the room, build. A [study.Study] of the room goes in. Out comes a [Plan]
// that holds the result of each step, or says why a step is missing.
//
// Treatments are judged with speakers and seat where the first step puts them ([Plan.Placed]),
// since moving costs nothing and comes first.
package plan
