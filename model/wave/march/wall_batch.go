package march

import (
	"slices"

	"evenbass/model/wave/vector"
)

// wallKind is what a batch is made of. Lanes without a face contribute nothing.
type wallKind struct {
	gain  octet // pressure gained by the cell per velocity, not above 0, Pa·s/m
	air   octet // the same for the wall, through the air before it: -ρd/T, Pa·s/m
	share octet // 1/(1 + ρd/T Σg)
}

// wallMotion is what changes behind a group of walls.
type wallMotion struct {
	// By batch, those in a row first: Σw, then by branch w and, if it has a spring, u, m/s.
	branches []octet
	// Of loose batches, by face: the pressure of the cell, and its gain.
	before, gain []float32
}

// shortestRow is the least number of faces in a row that make a batch of their own.
const shortestRow = 3

// batch puts faces, which come in the order of their cells, into batches. How they are batched does
// not change a bit of the result: a cell first receives what comes from rows, then what comes from
// loose faces, both in their order.
func (w *wallGroup) batch(pieces []wallPiece) {
	known := map[wallKind]*wallKind{}
	var loose []wallPiece
	for len(pieces) > 0 {
		n := 1
		for n < min(vector.Lanes, len(pieces)) && pieces[n].cell == pieces[0].cell+n {
			n++
		}
		if n < shortestRow {
			loose = append(loose, pieces[:n]...)
		} else {
			w.rows = append(w.rows, group[wallKind]{pieces[0].cell, w.kind(known, pieces[:n])})
		}
		pieces = pieces[n:]
	}
	for batch := range slices.Chunk(loose, vector.Lanes) {
		w.loose = append(w.loose, group[wallKind]{len(w.faces), w.kind(known, batch)})
		for l := range vector.Lanes { // spare lanes repeat the last cell and contribute nothing
			w.faces = append(w.faces, int32(batch[min(l, len(batch)-1)].cell))
		}
	}
}

// kind returns the kind of a batch of up to eight faces, which is new unless it is known.
func (w *wallGroup) kind(known map[wallKind]*wallKind, pieces []wallPiece) *wallKind {
	var k wallKind
	for l, p := range pieces {
		k.gain[l], k.air[l] = float32(-p.gain), float32(-p.air)
		k.share[l] = float32(1 / (1 + p.air*float64(w.sum[l])))
	}
	if known[k] == nil {
		known[k] = &k
	}
	return known[k]
}

// size returns how many octets describe the motion behind a batch.
func (w *wallGroup) size() int { return 1 + len(w.branches) + w.springs }

// rest returns the motion behind a group of walls at rest.
func (w *wallGroup) rest() wallMotion {
	return wallMotion{
		branches: make([]octet, (len(w.rows)+len(w.loose))*w.size()+1), // one to spare, where a pointer may end
		before:   make([]float32, len(w.faces)), gain: make([]float32, len(w.faces)),
	}
}

// moveWalls takes the walls one step and adds the gain of their cells to next. Scalar work comes
// before and after the vector work, never between.
func (s *System) moveWalls(z *state, next, now []float32) {
	for i, w := range s.walls {
		before := z.behind[i].before
		for n, cell := range w.faces {
			before[n] = now[cell]
		}
	}
	for i, w := range s.walls {
		m, rows := &z.behind[i], len(w.rows)*w.size()
		w.march(s.vectors, w.rows, m.branches[:rows], now, next)
		w.march(s.vectors, w.loose, m.branches[rows:], m.before, m.gain)
	}
	for i, w := range s.walls {
		gain := z.behind[i].gain
		for n, cell := range w.faces {
			next[cell] += gain[n]
		}
		clear(gain)
	}
}
