// Package room shows a room as its file was understood, before its sound is computed.
//
// In goes a [Report]; out comes its text for a terminal. The tables of walls, modes and floor marks, and the
// graph of modes, serve pages too. Absorption is the random-incidence coefficient from 0 to 1; a mode (n,m,l) has n,
// m and l half waves along length, width and height.
package room
