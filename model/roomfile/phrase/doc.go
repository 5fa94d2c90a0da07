// Package phrase reads and writes what a room file, and the command line, say on one line: a layer,
// a build-up, a name, and a treatment with its place. In go a text and the owner's own materials; out
// come a [model.Layer], a [model.Treatment] or a [*quantity.Mistake] that says what would be right.
// It has no symbols of its own; figures are SI once read.
package phrase
