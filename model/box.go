package model

import "gonum.org/v1/gonum/spatial/r3"

// Boundary is a locally reacting surface: at each point the air's normal
// velocity follows the pressure there and nothing else.
type Boundary interface {
	// Admittance returns the specific admittance β = ρc/Z at frequency f in Hz.
	// A passive surface has a real part of zero or more.
	Admittance(f float64) complex128
}

// Plain is a boundary with one specific admittance at every frequency.
type Plain complex128

// Admittance implements [Boundary].
func (p Plain) Admittance(float64) complex128 { return complex128(p) }

// Rigid is the wall that moves not at all.
const Rigid = Plain(0)

// Box is a rectangular room as the box engines see it: each wall even, with one
// boundary all over. A nil boundary is rigid.
type Box struct {
	Size  r3.Vec // length, width, height in m
	Air   Air
	Walls [6]Boundary // by Face

	// Tape is the size by tape, m, where that is larger than Size: a place between the two is taken
	// as one at the wall. The zero value is none.
	Tape r3.Vec
}

// Admittance returns β of a face at frequency f in Hz.
func (b *Box) Admittance(face Face, f float64) complex128 {
	if w := b.Walls[face]; w != nil {
		return w.Admittance(f)
	}
	return 0
}

// Contains reports whether a position is inside the box, walls included, or outside by no more than
// its size by tape is.
func (b *Box) Contains(p r3.Vec) bool {
	size := b.largest()
	return p.X >= 0 && p.Y >= 0 && p.Z >= 0 && p.X <= size.X && p.Y <= size.Y && p.Z <= size.Z
}

// Clamp returns a position that the box contains, moved to the wall if it is beyond one.
func (b *Box) Clamp(p r3.Vec) r3.Vec {
	return r3.Vec{X: min(p.X, b.Size.X), Y: min(p.Y, b.Size.Y), Z: min(p.Z, b.Size.Z)}
}

// largest returns the larger of both sizes on each axis.
func (b *Box) largest() r3.Vec {
	return r3.Vec{X: max(b.Size.X, b.Tape.X), Y: max(b.Size.Y, b.Tape.Y), Z: max(b.Size.Z, b.Tape.Z)}
}
