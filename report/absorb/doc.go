// Package absorb shows build-ups of absorbing layers beside one another: as a page, as text for a
// terminal and as CSV. A [Report] goes in.
package absorb
