package wave

import "slices"

// wallPiece is a face of a group: the cell that it bounds, and what belongs to it in
// a batch.
type wallPiece struct {
	cell      int
	gain, air float64
}

// wallBatch is a batch before it has its place among the others.
type wallBatch struct {
	group
	faces [lanes]int32
}

// wallBuilder makes the batches of one group.
type wallBuilder struct {
	*wallGroup
	known   map[wallKind]int32
	batches []wallBatch
}

// shortest is the least number of faces in a row that get a batch of their own.
const shortest = 3

// fill makes batches of faces, which come in the order of their cells. Each batch keeps
// to one plane of cells.
func (g *wallGroup) fill(pieces []wallPiece, plane int) {
	b := wallBuilder{wallGroup: g, known: map[wallKind]int32{}}
	var loose []wallPiece
	for len(pieces) > 0 {
		n := 1
		for n < min(lanes, len(pieces)) && pieces[n].cell == pieces[0].cell+n {
			n++
		}
		if n >= shortest {
			b.add(pieces[:n])
		} else {
			if len(loose)+n > lanes || len(loose) > 0 && loose[0].cell/plane != pieces[0].cell/plane {
				b.add(loose)
				loose = nil
			}
			loose = append(loose, pieces[:n]...)
		}
		pieces = pieces[n:]
	}
	b.add(loose)
	slices.SortStableFunc(b.batches, func(a, b wallBatch) int { return a.compare(b.group, plane) })
	var list []group
	for _, one := range b.batches {
		list = append(list, one.group)
		g.faces = append(g.faces, one.faces)
	}
	g.groups = newGroups(list, plane)
}

// add appends a batch of up to eight faces; none is none.
func (b *wallBuilder) add(pieces []wallPiece) {
	if len(pieces) == 0 {
		return
	}
	batch := wallBatch{group: group{at: int32(pieces[0].cell)}}
	k := wallKind{count: len(pieces), row: true}
	for l, p := range pieces {
		batch.faces[l] = int32(p.cell)
		k.gain[l], k.air[l] = float32(p.gain), float32(p.air)
		k.share[l] = float32(1 / (1 + p.air*float64(b.sum[l])))
		k.row = k.row && p.cell == pieces[0].cell+l
	}
	number, ok := b.known[k]
	if !ok {
		number = int32(len(b.kinds))
		b.known[k] = number
		b.kinds = append(b.kinds, k)
	}
	batch.kind = number
	b.batches = append(b.batches, batch)
}
