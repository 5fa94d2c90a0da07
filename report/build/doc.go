// Package build shows a building plan: shopping list, cuts, weights, wall drawings and steps with
// their cautions, as a page with one printable sheet a wall, as text and as CSV. A [Report] goes in.
package build
