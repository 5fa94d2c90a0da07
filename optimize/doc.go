// Package optimize searches for the best places of loudspeakers and listener
// under the constraints of a project. It prints nothing and knows engines only
// as a [model.Engine]; where a dip is to be explained it asks the box engines for
// their evidence.
//
// # The search
//
// [Place] runs these steps; each has a file of its own:
//
//  1. problem.go turns the project into the few numbers that may be chosen, and a
//     point of the unit cube into a [model.Layout] that respects the zones and,
//     where it can, the listening triangle.
//  2. table.go tabulates the engine's field between all legal places of speakers
//     and head. From then on one transfer costs microseconds.
//  3. score.go gives a layout its robust spread, the figure to be minimised.
//  4. niche.go breeds a population that keeps several good layouts alive side by
//     side; ledger.go remembers every layout ever scored.
//  5. polish.go walks the best different ones to the nearest centimetre from
//     which no small move is better.
//  6. final.go computes what is shown by the engine itself, not the table.
//
// Beside that, weighing.go scores layouts for several seats (seat.go) and front.go keeps
// what no other layout beats at the main seat and the others; conflict.go finds the wishes
// of which one must give way where nothing fits; [Stay] (draw.go, standing.go) draws what
// is not known again and again; [Facings] turns the room; [Remedies] tries moves against
// the dips that are left.
//
// [Explain] (cause.go, suspect.go) then says of each deep dip which wall or mode
// causes it, by leaving them out one by one, and what it moves with. [NewSurvey] maps
// the floor about a layout: where else the chair could go, how loud it is where.
//
// # Symbols and units
//
//	layout     woofer centres and head, m; on a lattice of 1 cm
//	spread     half the distance from the highest to the lowest smoothed level
//	           within the goal's band, dB; of a pair, that of the worst of left,
//	           right and both together (package response)
//	robust     the spread averaged over the layout as marked and twelve more, in
//	           which one speaker or the head is off by the displacement along x
//	           or y, dB
//	score      the robust spread of the main seat and what counts at the others,
//	           weighted, dB; with one seat the robust spread
//	violation  by how much a layout breaks the rules, m (model.Project.Violation)
//	apart      the largest distance between the same marks of two layouts, m
//
// The same project, engine, settings and seed give the same answer to the last
// digit on any number of cores: every score is a pure function of the layout.
package optimize
