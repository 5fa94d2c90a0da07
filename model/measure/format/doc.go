// Package format reads measurements from files and writes them. In go the bytes of a file
// and what its owner says about it ([Options]); out comes a [measure.Measurement], with
// doubts for all that the file does not tell and nobody said, or an error that names file
// and line ([Error]).
//
// # What is read
//
//	our own form      text that begins "evenbass measurement 1"; see below
//	columns           frequency, level and perhaps phase; or time and samples; or samples
//	                  alone, with a rate. Any separator, decimal point or comma, headings
//	                  and comments, rows and columns in any order
//	WAV               impulse responses and recordings: PCM of 16, 24 or 32 bits, floating
//	                  point of 32 or 64 bits, any rate, up to 32 channels
//	correction        columns with the response of the microphone, which is taken out
//
// The reader of WAV is our own. The usual library holds no floating point, knows no extensible
// headers and passes over an end in the middle of one; a test reads our files with it.
//
// # Our own form
//
// Lines of text in UTF-8. Numbers are written so that they read back to the same value. The
// order is free, but data stand last. Text with odd characters is in quotes with escapes.
//
//	evenbass measurement 1
//	name: chair, before
//	seat: chair
//	speaker: left                  left, right, both or sub
//	at: 1.8 1.64 1.2               m: from the front wall, from the left wall, above the floor
//	date: 3 May
//	state: rear layer              one line a treatment that stood; "state: bare" for none
//	temperature: 293.15            K
//	band: 16.8 363.5               Hz
//	note: recorded at half volume
//	unknown: gain, microphone correction
//	impulse: 4 samples at 2000 Hz, zero at 1.25, timed
//	0
//	0.5
//	-0.25
//	0.125
//	noise: 2 rows
//	20 -61.5
//	300 -70
//	end
//
// A table stands in place of the impulse response:
//
//	table: 2 rows, smoothed to 1/12 octave
//	20 -3.5 1.5708
//	300 2 -0.5
//
// with frequency in Hz, level in dB and phase in rad, if there is one.
package format
