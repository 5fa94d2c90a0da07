// Package floormap shows what a seat or a speaker would get anywhere on the floor: maps on the page
// with a slider over frequency, a plan in letters for the terminal, and CSV. A [Report] goes in.
package floormap
