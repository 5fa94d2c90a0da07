// Package comparison holds two states of a seat against each other: measured with measured, or
// predicted with measured. In go two analyses; out comes a [Comparison]: first whether it is fair,
// with every [Objection] in figures, then the difference of the curves and what became of each
// figure of the card.
//
// Curves are aligned by their power means in the common band, unless both were measured with one
// gain. Smaller changes than a repeated measurement shows count as none ([Repeat]).
package comparison
