// Package batch shows many rooms in one table, as text, CSV and JSON: the best layout of each, its
// figures, and what failed.
package batch
