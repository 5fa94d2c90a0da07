// Package comparison compares two states of a seat: measured with measured, or predicted with
// measured. In go two analyses; out comes a [Comparison]: first whether it is fair, with every
// [Objection] in figures, then the difference of the curves and the change of each figure of the
// card.
//
// Curves are aligned by their power means in the common band, unless both were measured with one
// gain. Changes smaller than those between repeated measurements ([Repeat]), or than a listener notices, count
// as none.
package comparison
