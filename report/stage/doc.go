// Package stage shows in which order to build pieces from a stock, what each stage brings, and where
// to stop: as a page and as text. A [Report] goes in.
package stage
