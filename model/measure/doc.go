// Package measure holds what was measured in a room: the response at one seat from one
// speaker ([Measurement]), as an impulse response or as a table of levels. In go samples or
// levels with what is known about how they came to be; out come transfers over any grid,
// on the scale that package response reads, and what the data cannot tell ([Doubt]).
//
// Its sub-packages make measurements (sweep) and read files (format).
//
// # Symbols
//
//	x[n]   sample n of an impulse response
//	fs     sampling rate, Hz
//	n0     the sample of time zero, the moment at which the speaker sounds; not always whole
//	H      response: sound pressure at the seat over an arbitrary reference, e^{+jωt}
//	L      20 lg|H|, dB
//
// A speaker that is flat outdoors gives an H that is the room's own, up to one constant.
// Levels are therefore good for comparing within a measurement, and between two only if
// the gain stood still.
package measure
