// Package model holds a small room as plain data ([Project]): its size and air, what its
// walls are made of, what stands and hangs in it, where loudspeakers and listeners are and
// may be, what there is to build from, and what the owner wants.
//
// It also answers what follows from that data alone: the floor plan and the ceiling of a
// room that is no box, what stands in whose way, what is impossible ([Project.Validate]),
// what is odd ([Project.FindWarnings]), which limits a layout breaks ([Project.Breaches]), the
// project seen from another wall ([Project.Facing]) or with an option carried out
// ([Project.With]). It knows no acoustics beyond the speed of sound.
//
// And it holds the few words that all engines share: the frequency [Grid], the [Box] as an
// engine sees it, the [Engine] and the [Field] of a seat, the decibel type [Level].
//
// The package stays whole: checks, rules, turning and caveats all need the room's shape, and a part cut off
// would export its inside. Caveats stay because [Warning] admits no types from elsewhere.
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
//
// # Glossary
//
// Words that mean something of their own in this module:
//
//	batt         one slab of wool as it is sold
//	both         both speakers with one signal, as most bass in a mix
//	breach       a limit that a layout breaks, and by how much
//	card         the figures of one seat by which layouts, options and measurements are
//	             compared, with a mark each: better, worse, no difference
//	cloud        a piece that hangs level under the ceiling
//	ears         the point midway between a listener's ears, where a height or a distance
//	             is given; the place itself is a seat
//	goal         the band and the smoothing by which results are judged
//	layer        one sheet, mat or gap of material in a piece
//	layout       the places of both speakers and of the main seat
//	low-end reach  the lowest frequency that comes within 6 dB of the band's mean
//	low limit    the frequency at which a loudspeaker is 3 dB down outdoors
//	mark         a place to be marked on the floor with tape: of a speaker or a seat
//	option       a change to the room that is compared before it is made
//	piece        what hangs or stands in the room to absorb sound; [Treatment]
//	place        where something is or may be, a point; a zone is a part of the floor
//	plain room   a whole box: no outline, no sloped ceiling
//	resolution   the smallest change of a figure that a prediction can tell and a listener
//	             notices; a smaller one is no difference
//	robust       averaged over small displacements of each mark
//	score        what a search minimises: the robust spread of all seats in dB
//	seat         a listener's place; the first one is the main seat
//	shown        what is listed to the reader: the present layout and the best ones
//	speaker      the box of a loudspeaker
//	spread       half the distance between the highest and the lowest smoothed level within
//	             the goal's band, written ±4.6 dB with its recipe
//	stage        a step of a building plan after which one may stop
//	stock        the material in hand, and where it may go
//	tolerance circle  how far a mark may be off before the spread grows by 1 dB
//	trial        one random guess at what nobody knows of a room
//	woofer       the point of a speaker that is measured to: its acoustic centre at low
//	             frequencies, in the front plane of the box
package model
