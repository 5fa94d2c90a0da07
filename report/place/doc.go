// Package place shows the best places for speakers and seats: the page, the text for a terminal and
// JSON; and the shorter texts of a check and of a prediction. A [Report] goes in.
package place
