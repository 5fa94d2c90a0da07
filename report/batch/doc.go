// Package batch shows many rooms in one table, as text, CSV, JSON and a page: the best layout of each, its
// figures, and what failed.
package batch
