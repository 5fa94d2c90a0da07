// Package surface turns the surfaces of a room into boundaries: constructions,
// impedances, tables and treatments go in, a [model.Box] or single boundaries come out,
// with warnings about everything that was simplified. A wall with a door in it gets the
// mean admittance, so that both let the same volume flow through.
package surface
