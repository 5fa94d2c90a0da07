// Package analysis reads off a measurement all figures that evenbass reports. In goes a
// [measure.Measurement] and the goal's recipe; out comes an [Analysis]: the figures that
// predictions have too, decay times, modes, how long tones stay, noise, dips and peaks, and what
// the data cannot tell.
//
// An impulse response gives all of these, a table of levels only those that need no time.
//
// # Window
//
// The end of a record holds only noise. Levels are read from 0.3 s before the sound begins to 0.2 s
// after the slowest third octave has sunk into the noise, and never from less than 0.8 s. The end
// fades out over 0.1 s.
package analysis
