// Package data writes figures for other programs: numbers of JSON with a fixed number of digits, rows
// of CSV whose cells no spreadsheet takes for a formula.
package data
