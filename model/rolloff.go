package model

import (
	"fmt"
	"math"
)

// Alignment says how a loudspeaker's level falls below its low limit, outdoors.
type Alignment int

// The alignments: Butterworth high-passes of second and fourth order. Small, JAES 20 (1972)
// 798, for sealed boxes; Small, JAES 21 (1973) 438, for vented ones.
const (
	Sealed Alignment = iota // 12 dB per octave
	Ported                  // 24 dB per octave
)

// String returns the word of the room file: "sealed" or "ported".
func (a Alignment) String() string {
	if a < Sealed || a > Ported {
		return fmt.Sprintf("Alignment(%d)", int(a))
	}
	return [...]string{"sealed", "ported"}[a]
}

// Order returns the order of the high-pass: 2 or 4.
func (a Alignment) Order() int {
	if a == Ported {
		return 4
	}
	return 2
}

// RollOff is how far down a loudspeaker plays outdoors. The zero value is flat.
type RollOff struct {
	Limit     float64 // Hz at -3 dB; 0 is none
	Alignment Alignment
}

// Level returns the level at frequency f in Hz against that far above the limit, dB:
// -10 lg(1 + (limit/f)^2n) for a high-pass of order n (Butterworth 1930).
func (r RollOff) Level(f float64) Level {
	if r.Limit == 0 {
		return 0
	}
	return -PowerLevel(1 + math.Pow(r.Limit/f, float64(2*r.Alignment.Order())))
}

// RollOff returns how the pair's level falls at low frequencies.
func (s *Speakers) RollOff() RollOff { return RollOff{s.LowLimit, s.Alignment} }

// RollOff returns how a subwoofer's level falls at low frequencies.
func (s *Subwoofers) RollOff() RollOff { return RollOff{s.LowLimit, s.Alignment} }

// Response returns the complex response at frequency f in Hz of the Butterworth high-pass whose level
// is [RollOff.Level], e^{+jωt}:
//
//	H = sⁿ/Π(s² + s/Q + 1),   s = jf/limit;   Q = 0.707, or 0.541 and 1.307 for the fourth order
func (r RollOff) Response(f float64) complex128 {
	if r.Limit == 0 {
		return 1
	}
	qs := []float64{math.Sqrt2 / 2}
	if r.Alignment == Ported {
		qs = []float64{1 / (2 * math.Cos(math.Pi/8)), 1 / (2 * math.Sin(math.Pi/8))}
	}
	s, h := complex(0, f/r.Limit), complex128(1)
	for _, q := range qs {
		h *= s * s / (s*s + s/complex(q, 0) + 1)
	}
	return h
}
