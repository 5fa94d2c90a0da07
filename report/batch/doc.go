// Package batch shows many rooms in one table, as text, CSV, JSON and a page: the best layout of each, its
// figures, and what failed. One [Row] a room goes in, made of its [place.Report] or read back from an
// earlier run's JSON.
package batch
