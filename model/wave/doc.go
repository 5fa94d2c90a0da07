// Package wave is the wave engine of a room of any shape, with anything that absorbs standing
// where it really stands. It solves the wave equation by marching in time over a grid of
// cells. It is slower than images and modes and leaves less out.
//
// [NewRoom] takes a room and a grid of frequencies and returns a [Room], an engine. One run
// with the source at the seat fills the room with its answer. By reciprocity that is the
// answer at the seat from every place, so a loudspeaker's place then costs an interpolation
// only. Good up to the top of the grid of frequencies; surfaces react locally.
//
// The packages below it, from the bottom up:
//
//	vector    eight numbers at once
//	scene     a room as the solver sees it
//	lattice   a scene cut into cells
//	march     the steps in time
//	spectrum  records of pressure to spectra
//	solver    the engine of one scene
//	tube      an impedance tube of cells
//	draw      a room drawn into a scene
//	wavetest  what tests share
//
// MEASURED.md holds what was measured of its errors and speed.
package wave
