// Package engines decides which engine answers for a room, over which frequencies and on which
// cells.
//
// In goes a [model.Project], with the name of an engine or [Auto]; out come engines that are set up,
// their frequencies and the memory that they need. Cells are cubes with an edge in m: the usual ones of
// [wave.DefaultCell] for figures that are shown, and [CoarseCell] to rank layouts and to compare rooms.
package engines
