// Package calibration fits the model of a room to measurements made in it, so that the next
// prediction holds for this room and not for its kind. [Fit] takes a project and measurements at
// one or more seats; a [Result] says what they determine, with which uncertainty, and what they
// leave open. [Result.Apply] gives the project with all of it, for every engine.
//
// The fit determines, by wall, how much it absorbs on the scale of its construction (see
// [model.WallFit]), the room's size and temperature, where speakers and microphone really stood,
// the speakers' levels, delay and roll-off. [Fit] solves a plain room by package mode; any other
// takes a [Solver].
//
// Each unknown θ has a prior: a mean and a standard deviation, from the construction's range or
// from the usual errors of tapes and thermometers. With u the unknowns in deviations from their
// prior means and R their correlation, the fit minimises
//
//	Σ r(u)² + uᵀ R⁻¹ u
//
// by Gauss-Newton steps after Levenberg (1944) and Marquardt (1963), first below 90 Hz, where a wrong
// start leads to no wrong resonance, then in the whole band. The covariance of what is left is
// (JᵀJ/s² + R⁻¹)⁻¹, with s² three times the mean square of the residuals and at least three, since the
// model errs alike at neighbouring frequencies (Tarantola, Inverse Problem Theory, 2005, section 3.2). What
// the data cannot tell keeps its prior, and how a wall strays from a parabola over lg f stays unknown.
//
// Residuals r are differences of complex pressures where the measurement has a time reference, else
// of levels smoothed over 1/6 octave.
package calibration
