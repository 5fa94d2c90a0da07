// Package geometry holds intervals and rectangles of the floor plan in which marks may be
// placed, and how places are rounded, compared and kept inside a room. Everything is in m.
package geometry
