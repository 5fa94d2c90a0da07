// Package diagnosis says of each dip and peak that was measured at a seat whether it is a mode, the
// place of one speaker, the place of the seat or the speaker's own roll-off, and which measurement
// to make next. In go the analyses of the speakers at one seat; out come [Fault] and [Next], as
// values without words.
//
// The evidence is in the measurements alone: a mode was found ringing at a peak; a dip is there
// with one speaker and not with the other, or with both. Where they do not decide, the cause is
// [Open].
package diagnosis
