// Package floormap maps the floor for one layout: the spread at every place the chair could have,
// the level at every frequency, and how far chair and speakers may be off. A project, an engine and
// a layout go in ([New]); a [Survey] of maps comes out.
//
// A [Floor] is a lattice of places at the height of the ears, m. By reciprocity the fields of the
// two speakers answer for every place of the chair. Spreads and levels are in dB, NaN where there
// is no air.
package floormap
