package build

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// Wrapping is how the slabs of a bag are closed in.
type Wrapping struct {
	Bag    int     // index into the plan's bags; -1 if film from the roll is wrapped round
	Girth  float64 // round the slabs across their length, m
	Length float64 // that the bag or the film needs along them, seams included, m
	Tape   float64 // m
	Why    Words   // why no ready-made bag was taken; empty if one was
}

// ease is how much larger the girth of a bag must be than that of the slabs, so that it slips over them.
// Common practice, no source.
const ease = 0.02

// wrap returns what it takes to close film round slabs of a size: the girth, and the
// length of a bag that is closed at one end already, which folds over half the depth at
// each end and laps over itself at the mouth.
func wrap(size r3.Vec) (girth, length float64) {
	long := max(size.X, size.Y, size.Z)
	depth := min(size.X, size.Y, size.Z)
	wide := size.X + size.Y + size.Z - long - depth
	return 2 * (wide + depth), long + depth + filmSeam
}

// Closes reports whether a ready-made bag of that flat size closes round slabs of a
// size, and if not, what it lacks.
func Closes(bag model.Roll, size r3.Vec) (ok bool, lacks Words) {
	girth, length := wrap(size)
	switch short, low := girth+ease-2*bag.Width, length-bag.Length; {
	case short > slack && low > slack:
		return false, Words{wholeCentimetres(short), " too narrow round and ", wholeCentimetres(low), " too short"}
	case short > slack:
		return false, Words{wholeCentimetres(short), " too narrow round"}
	case low > slack:
		return false, Words{wholeCentimetres(low), " too short"}
	}
	return true, nil
}

// wholeCentimetres rounds a length in m up to centimetres, with a margin for the rounding errors of sums.
func wholeCentimetres(m float64) Metres { return Metres(math.Ceil(100*m-1e-6) / 100) }

// Holds returns how many batts, one on the other, a ready-made bag closes round.
func Holds(bag model.Roll, batt model.Batt) int {
	n := 0
	for n < 1000 {
		stack := r3.Vec{X: batt.Length, Y: batt.Width, Z: float64(n+1) * batt.Layer.Thickness}
		if ok, _ := Closes(bag, stack); !ok {
			break
		}
		n++
	}
	return n
}

// bag plans a wrapped piece: in the smallest ready-made bag that closes, or else in film
// from the roll.
func (m *maker) bag(i int, r recipe) {
	t := &m.project.Room.Treatments[i]
	width, height := face(t)
	n := len(m.plan.Pieces)
	p := Piece{Treatment: i, Number: 1, Kind: Bag, Space: m.project.Room.Space(t), Width: width, Height: height, Depth: r.depth}
	m.fillFace(&p, r)
	girth, length := wrap(p.Size())
	w := &Wrapping{Bag: -1, Girth: girth, Length: length, Why: Words{"the stock has no bags"}}
	for k, use := range m.plan.Bags {
		ok, lacks := Closes(use.Bag, p.Size())
		switch {
		case ok && (w.Bag < 0 || use.Bag.Area() < m.plan.Bags[w.Bag].Bag.Area()):
			w.Bag, w.Why = k, nil
		case !ok && w.Bag < 0:
			w.Why = append(Words{use.Bag.Title(), " is "}, lacks...)
		}
	}
	mouth := girth/2 + p.Depth // across the folded end
	area := 2 * (girth / 2) * length
	if w.Bag >= 0 {
		m.plan.Bags[w.Bag].Used++
		w.Tape = mouth
	} else {
		w.Length += filmSeam // closed by folds at both ends
		w.Tape = w.Length + 2*mouth
		w.Tape += m.sheet(&m.plan.Films[r.films[0]], n, girth+filmSeam, w.Length)
		m.note(i, append(Words{"is wrapped in film from the roll: "}, w.Why...)...)
	}
	p.Weight = plus(p.Weight, m.filmWeight(r.films[0]), area)
	m.plan.Tape += w.Tape
	p.Wrapping = w
	p.Weight = m.cover(p.Weight, n, width+2*p.Depth, height+2*p.Depth, p.wrapped(p.Depth+clothWrap))
	m.finish(p, 0)
}
