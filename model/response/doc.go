// Package response reads figures off a frequency response: smoothing, spread, standard deviation, low-end
// reach, left-right difference, decay, dips and peaks and, by evidence, their cause. A [Card] holds the
// figures by which two states are compared, and a [Resolution] the smallest change that counts. It knows nothing of rooms or engines: it is given transfers over a grid.
//
// # Recipe
//
// A spread means nothing without its recipe: the band, the smoothing and what
// was averaged. Every figure here carries its goal, which holds them.
//
//	p(f)    transfer, Pa·s/m³ (model.Field)
//	L(f)    room gain, dB: 20 lg(4π|p|/(ωρ)) (model.RoomGain)
//	Ls(f)   L smoothed: 10 lg of the mean of 10^(L/10) over one window of 1/b
//	        octave about f, the mean taken over lg f; the window's edges are
//	        f G^(±1/(2b)) with G = 10^0.3 (IEC 61260-1:2014)
//	spread  (max Ls - min Ls)/2 within the band, written "±4.6 dB (30–300 Hz,
//	        1/12 octave)"
package response
