// Package measured shows what was measured: one state of a room, or two held against each other.
// In go analyses and comparisons; out come text for the terminal, a page and JSON. Words and
// units are made here, figures never.
package measured
