// Package model holds a small room as plain data: its size and air, what its
// walls are made of, where loudspeakers and listeners are and may be, and what
// the owner wants. It also holds the few words that every engine shares: the
// frequency [Grid], the [Box] as an engine sees it, the [Field] of a seat, and
// the decibel type [Level]. It computes almost nothing itself.
//
// # Coordinates
//
// Positions are gonum r3.Vec in metres. The origin is the floor corner on the
// left of the wall that the listener faces. x runs from that front wall to the
// back wall, y from the left wall to the right wall, z from floor to ceiling.
//
//	       front wall (x = 0)
//	     +----------------------+
//	left |  L      desk      R  | right
//	y=0  |                      | y = Size.Y
//	     |         seat         |
//	     +----------------------+
//	       back wall (x = Size.X)
//
// # Symbols and units
//
// SI everywhere: m, s, Hz, Pa, kg, K. The time factor is e^{+jωt}, so a wave
// that runs outwards is e^{-jkr} and a medium with losses has Im k < 0.
//
//	c      speed of sound, m/s
//	ρ      density of air, kg/m³
//	k      wavenumber ω/c, 1/m
//	Q      volume velocity of a source, m³/s
//	p      sound pressure, Pa
//	G      p / (jωρQ), the Green function, 1/m; e^{-jkr}/(4πr) in the free field
//	Z      surface impedance, Pa·s/m; ζ = Z/(ρc) is the specific impedance
//	β      1/ζ, the specific admittance; a rigid wall has β = 0, a wall that
//	       gives like a spring has Im β > 0
//	L      level, dB; of a transfer it is relative to the same source at 1 m in
//	       the free field, so that a loudspeaker that is flat outdoors reads
//	       as the room alone
package model
