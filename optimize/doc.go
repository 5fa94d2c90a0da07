// Package optimize searches for the best places of loudspeakers and listener within the
// constraints of a project. A project and an engine ([model.Engine]) go in; layouts with all
// their figures come out ([Result]). It prints nothing.
//
// # The search
//
// [Place] takes these steps; each has a file of its own:
//
//  1. problem.go turns the project into the few numbers that may be chosen; genes.go turns a
//     point of the unit cube into a [model.Layout] that respects the zones and, where it can,
//     the listening triangle.
//  2. table.go tabulates the engine's field between all legal places of speakers and ears.
//     After that, one transfer costs microseconds.
//  3. score.go gives a layout its robust spread, the figure to be minimised; weighing.go adds
//     what counts at the other seats.
//  4. niching.go breeds a population that keeps several good layouts alive side by side;
//     archive.go remembers every layout ever scored.
//  5. polish.go moves the best different ones by centimetres until no small move is better.
//  6. refine.go repeats the polish with the accurate engine if the search used a coarse one.
//  7. evaluate.go computes the figures shown, by the engine itself and not by the table.
//
// front.go then lists the layouts that no other one beats both at the main seat and at the
// others. Where nothing fits, conflict.go finds the constraints of which one must be relaxed.
// [Facings] searches again with the listener facing other walls, and [Steps] finds the steps from
// the present layout to the best, each of which gains. [Result.Order] decides between layouts that
// the prediction cannot tell apart.
//
// # Symbols and units
//
//	layout     centres of the woofers and midpoint between the ears, m; on a lattice of 1 cm
//	spread     half the distance from the highest to the lowest smoothed level
//	           within the goal's band, dB; of a pair, the worst of left,
//	           right and both together (package response)
//	robust     the spread averaged over the layout as marked and twelve more, in
//	           which one speaker or the ears are off by the displacement along x or y, dB
//	score      robust spread of the main seat and what counts at the others, weighted, dB;
//	           with one seat, its robust spread
//	violation  by how much a layout breaks the rules, m (model.Project.Violation)
//	apart      largest distance between the same marks of two layouts, m
//
// The same project, engine, settings and seed give the same answer to the last digit on any
// number of cores: every score is a pure function of the layout.
package optimize
