// Package card puts the card of a state into words: the rows of its table, their names, units and
// order, the mark of each figure against another state, a headline, and the keys of JSON and CSV.
// What is compared, a layout, an option, a stage or a number of subwoofers, comes in as a [State];
// text, tables and documents go out. Every command and page takes them from here, so that one
// figure has one name everywhere.
package card
