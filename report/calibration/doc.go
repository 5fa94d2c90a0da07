// Package calibration puts into words what measurements taught about a room: in go a project and the
// result of a fit, out come text for the terminal and JSON. Words and units are made here, figures
// never.
package calibration
