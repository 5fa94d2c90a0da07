// Package wave solves the wave equation in a room of any shape, with anything
// that absorbs standing where it really stands, by marching in time over a grid
// of cells. It is slower than images and modes and leaves less out.
//
// One run with the source at the seat fills the room with its answer. By
// reciprocity that is the answer at the seat from every place, so a loudspeaker's
// place then costs an interpolation only.
//
// # What is solved
//
// Pressure p lives in cells, the volume velocity per area u on the faces between
// them. Everything is a mass, a resistance and a spring:
//
//	V/(ρc²) dp/dt = -Σ A u + Q       cell of volume V, faces of area A, source Q
//	m du/dt + r u + K∫u dt = Δp       face
//
//	air        m = ρh
//	porous     mass and drag of material.PorousVolume; the cell's compliance is
//	           isothermal when slow; a limp skeleton is one more mass behind r
//	limp film  m grows by the film's surface mass
//	wall       one cell only; its branches M, R, K in parallel, behind the air
//	           between the cell's middle and the wall
//
// The step in time is the leapfrog (Yee 1966 for the staggered form). In plain
// air the velocities drop out and two pressures per cell are all that is kept.
//
// # Dispersion
//
// The plain seven-point stencil makes waves slower by (kh)²/24 and more along the
// axes than along diagonals. Here three things hold that down:
//
//   - Terms over the diagonals of each plane (the 19-point stencil) make the
//     leading error the same in every direction:
//     Δ_h = Δ + h²/12 Δ² + O(h⁴).
//   - An error that depends on frequency alone is no error: the answer at
//     frequency f is read off at the grid's own frequency Ω, where
//     Ω² = ω² (1 - (kH)²/12 + ...), see [warp].
//   - The leapfrog's error in time is a function of frequency alone too, and goes
//     the same way: Ω = 2/T sin(ω'T/2).
//
// Both kinds of term, faces and diagonals, are symmetric, so energy cannot grow
// whatever the shape.
//
// # Shapes
//
// Walls that cut cells keep their place by volume: a cell has its true share of
// air and each face its open share, exact for outlines, sloped planes and blocks.
// Films move the face that they hang in, likewise.
//
// # Limits
//
// Up to the top of the grid of frequencies only. Surfaces react locally. Material
// thinner than a cell, or so dense that a wave dies within one, is marched all the
// same and warned of; but layers on a wall of a room that a tube of the same cells
// shows to be drawn badly are replaced by a rigid block with their surface impedance,
// if that is nearer. A limp skeleton has no stiffness of its own, and one cell's does
// not push the next. A film within half a cell of a wall is left out, with a warning.
//
// # Symbols
//
//	h      cell size, m; hx, hy, hz where it matters
//	T      time step, s
//	H²     mean of the squares of the three cell sizes, m²
//	Ω      frequency as the grid sees it, rad/s
//	β      specific admittance of a wall
package wave
