package wave

import "slices"

// wallPart is what one goroutine marches of a group of walls: those of its planes, eight
// faces to a batch. Faces that lie in a row along x are read and written where they are;
// loose ones are brought side by side.
type wallPart struct {
	*wallGroup
	kinds       []wallKind
	rows, loose []group // batches: those in a row by their first cell, the others by their place in before
	// Batch by batch, those in a row first: Σw, then by branch w and, if it has a spring, u, m/s.
	motion []octet
	// Of loose batches, face by face: the cell, its pressure, and what it gains.
	faces        []int32
	before, gain []float32
}

// wallKind is what a batch is made of. Lanes beyond its faces give nothing.
type wallKind struct {
	gain  octet // pressure that the cell gains per velocity, not above 0, Pa·s/m
	air   octet // likewise the wall by the air before it: -ρd/T, Pa·s/m
	share octet // 1/(1 + ρd/T Σg)
}

// shortest is the least number of faces in a row that get a batch of their own.
const shortest = 3

// newWallPart makes batches of faces of a group, which come in the order of their cells.
// How they are batched changes no bit of the answer: a cell gets first what comes from
// rows, then what comes from loose faces, both in their order.
func newWallPart(g *wallGroup, pieces []wallPiece) *wallPart {
	w := &wallPart{wallGroup: g}
	known := map[wallKind]int32{}
	var loose []wallPiece
	for len(pieces) > 0 {
		n := 1
		for n < min(lanes, len(pieces)) && pieces[n].cell == pieces[0].cell+n {
			n++
		}
		if n < shortest {
			loose = append(loose, pieces[:n]...)
		} else {
			w.rows = append(w.rows, group{int32(pieces[0].cell), w.kind(known, pieces[:n])})
		}
		pieces = pieces[n:]
	}
	for batch := range slices.Chunk(loose, lanes) {
		w.loose = append(w.loose, group{int32(len(w.faces)), w.kind(known, batch)})
		for l := range lanes { // lanes beyond get the last cell once more, and nothing from it
			w.faces = append(w.faces, int32(batch[min(l, len(batch)-1)].cell))
		}
	}
	w.before, w.gain = make([]float32, len(w.faces)), make([]float32, len(w.faces))
	w.motion = make([]octet, (len(w.rows)+len(w.loose))*w.size())
	return w
}

// kind returns the number of the kind of a batch of up to eight faces.
func (w *wallPart) kind(known map[wallKind]int32, pieces []wallPiece) int32 {
	var k wallKind
	for l, p := range pieces {
		k.gain[l], k.air[l] = float32(-p.gain), float32(-p.air)
		k.share[l] = float32(1 / (1 + p.air*float64(w.sum[l])))
	}
	number, ok := known[k]
	if !ok {
		number = int32(len(w.kinds))
		known[k] = number
		w.kinds = append(w.kinds, k)
	}
	return number
}

// size returns how many octets move behind a batch.
func (w *wallPart) size() int { return 1 + len(w.branches) + w.springs }

// yield takes the walls of a band one step and adds to next what its cells gain. What is
// done face by face comes before and after what is done by vectors.
func yield(vectors bool, walls []*wallPart, next, now []float32) {
	for _, w := range walls {
		for i, cell := range w.faces {
			w.before[i] = now[cell]
		}
	}
	for _, w := range walls {
		rows := len(w.rows) * w.size()
		w.march(vectors, w.rows, w.motion[:rows], now, next)
		w.march(vectors, w.loose, w.motion[rows:], w.before, w.gain)
	}
	for _, w := range walls {
		for i, cell := range w.faces {
			next[cell] += w.gain[i]
		}
		clear(w.gain)
	}
}
