// Package spectraldecay says how long a tone stays in a room after it stops: the level over
// frequency and time. In goes an impulse response, or a transfer over even steps, measured or
// predicted alike; out comes a [Map].
//
// # Recipe
//
// A speaker plays a steady tone and fades it out over five of its periods, from time 0 on.
// The level at the seat follows from the response h to an impulse:
//
//	L(f, t) = 20 lg |∫ h(τ) g(t - τ) e^{-j2πfτ} dτ|
//	g(u)    = 1 before 0, (1 + cos(πuf/5))/2 up to 5/f, 0 after that
//
// This is the cumulative spectrum of Bunton & Small (JAES 30 (1982) 386). At time 0 it is the
// steady response, L = 20 lg|H|. Later it is what a listener hears of a note that has ended. The
// tone itself falls by 20 dB in [Fade] s, four periods: what falls faster is not resolved.
//
// Levels are averaged by power over 1/24 octave, so that a mode between two frequencies of the
// map is not lost.
package spectraldecay
