// Package optimize searches for the best places of loudspeakers and listener within the
// constraints of a project. A project and an engine ([model.Engine]) go in; layouts with all
// their figures come out ([Result]). It prints nothing.
//
// # The search
//
// [Place] takes these steps:
//
//  1. Package search turns the project into the few numbers that may be chosen.
//  2. Package table tabulates the engine's field between all legal places of speakers and ears.
//     After that, one transfer costs microseconds.
//  3. Package score gives a layout its robust spread, the figure to be minimised, and adds
//     what counts at the other seats.
//  4. Package search breeds layouts, keeps several good ones alive side by side, and moves the best
//     different ones by centimetres until no small move is better.
//  5. refine.go repeats the polish with the accurate engine if the search used a coarse one.
//  6. figures.go computes the figures shown, by the engine itself and not by the table.
//
// Where the best layout makes something worse than it is now, unimpaired.go puts one into the list that does not.
// front.go then lists the layouts that no other one beats both at the main seat and at the
// others. [Facings] searches again with the listener facing other walls, and [Steps] finds the steps from
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
