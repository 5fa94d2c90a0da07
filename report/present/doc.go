// Package present shows what was measured of a room as it stands, beside what is predicted for the same
// places: the figures, the curves, what each fault comes from, and the next measurement that tells
// most. A [Report] goes in; lines, tables and drawings for the pages of other packages come out.
package present
