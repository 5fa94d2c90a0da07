// Package sweep makes the test signal of a measurement, and turns a recording of it into
// responses. In goes what to play ([Sweep]), and later the recorded samples; out come one
// [measure.Measurement] for each part that was played, and how good the recording is
// ([Quality]).
//
// Each part is an exponential sweep (Farina, "Simultaneous measurement of impulse response and
// distortion with a swept-sine technique", 108th AES Convention 2000; Müller and Massarani,
// "Transfer-function measurement with sweeps", J. Audio Eng. Soc. 49, 2001). Dividing the recorded
// spectrum by that of the sweep puts the speaker's distortion before time zero, where it is cut off
// and counted.
//
// Before and after the parts stand timing marks: short chirps from 1 to 4 kHz, quieter than the
// sweep. They tell where in the recording the signal stands, how far the clocks of player and
// recorder differ, and when the sound of each speaker arrives.
//
// # Symbols
//
//	f1, f2  lowest and highest frequency of a sweep, Hz
//	T       its length, s
//	L       T / ln(f2/f1), s: the time in which its frequency grows by the factor e
//	x, X    the sweep and its spectrum; y, Y what was recorded
//	h, H    impulse response and response, H = Y/X
//	δ       clock drift: the recorder counts 1+δ seconds where the player counts one
package sweep
