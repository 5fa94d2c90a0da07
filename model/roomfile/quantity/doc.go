// Package quantity reads and writes numbers with units as people write them: "4 ft 7 1/2 in",
// "6 kPa·s/m²", "21 °C". A text goes in and the value in SI units comes out, or a [Mistake] that says
// what would be right. A [Dimension] holds the units of one kind of quantity; [Scan] takes a phrase
// apart into a [Part] for each number.
package quantity
