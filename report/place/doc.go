// Package place shows the best places for speakers and seats. A [Report] goes in; the page, the text for a
// terminal and JSON come out.
package place
