package build

import (
	"math/bits"
	"slices"
)

// exactMost is the number of blocks up to which every way to lay them is searched.
const exactMost = 7

// outline is the size of an arrangement of a set of blocks, and how it is put together:
// one block, or two arrangements side by side or one above the other.
type outline struct {
	width, height float64
	turn          bool // of one block
	first, second *outline
	block         int
	beside        bool // side by side; otherwise the second above the first
}

// exact lays blocks on the fewest sheets that cuts right across allow: for every set of
// blocks it finds all outlines that no other is smaller than in both directions (joined
// of those of its parts), and then the least number of sets that each fit on a sheet.
func (n *nester) exact(blocks []block) []state {
	sets := make([][]outline, 1<<len(blocks))
	for set := 1; set < len(sets); set++ {
		if bits.OnesCount(uint(set)) == 1 {
			sets[set] = single(blocks, bits.TrailingZeros(uint(set)))
			continue
		}
		for part := (set - 1) & set; part > set&^part; part = (part - 1) & set {
			sets[set] = n.join(sets[set], sets[part], sets[set&^part])
		}
	}
	// fewest[set] is the least number of sheets for a set, last[set] one of them.
	fewest, last := make([]int, len(sets)), make([]int, len(sets))
	for set := 1; set < len(sets); set++ {
		fewest[set] = len(blocks) + 1
		for part := set; part > 0; part = (part - 1) & set {
			if f := fewest[set&^part] + 1; f < fewest[set] && len(sets[part]) > 0 {
				fewest[set], last[set] = f, part
			}
		}
	}
	var filled []state
	for set := len(sets) - 1; set > 0 && last[set] > 0; set &^= last[set] {
		var s state
		n.realise(&s, &sets[last[set]][0], blocks, Rect{Width: n.width, Height: n.height})
		filled = append(filled, s)
	}
	return filled
}

// single returns the outlines of one block.
func single(blocks []block, i int) []outline {
	b := &blocks[i]
	out := []outline{{width: b.width, height: b.height, block: i}}
	if b.width != b.height {
		out = append(out, outline{width: b.height, height: b.width, block: i, turn: true})
	}
	return out
}

// join adds the outlines that two sets of blocks make together.
func (n *nester) join(to, a, b []outline) []outline {
	for i := range a {
		for j := range b {
			p, q := &a[i], &b[j]
			to = n.add(to, outline{width: p.width + n.kerf + q.width, height: max(p.height, q.height), first: p, second: q, beside: true})
			to = n.add(to, outline{width: max(p.width, q.width), height: p.height + n.kerf + q.height, first: p, second: q})
		}
	}
	return to
}

// add keeps an outline that fits on a sheet and that none in the list is smaller than.
func (n *nester) add(to []outline, o outline) []outline {
	if o.width > n.width+slack || o.height > n.height+slack {
		return to
	}
	for _, q := range to {
		if q.width <= o.width+slack && q.height <= o.height+slack {
			return to
		}
	}
	to = slices.DeleteFunc(to, func(q outline) bool { return o.width <= q.width+slack && o.height <= q.height+slack })
	return append(to, o)
}

// realise lays an arrangement into the corner of a rectangle.
func (n *nester) realise(s *state, o *outline, blocks []block, r Rect) {
	if o.first == nil {
		w, h := blocks[o.block].turned(o.turn)
		s.laid = append(s.laid, laid{o.block, Rect{r.X, r.Y, w, h}})
		s.split(r, w, h, r.Width-w <= r.Height-h, n.kerf)
		return
	}
	a, b := r, r
	if o.beside {
		a.Width = o.first.width
		b.X, b.Width = r.X+a.Width+n.kerf, r.Width-a.Width-n.kerf
		s.cut(b.X-n.kerf, r.Y, b.X-n.kerf, r.Y+r.Height, b.Width)
	} else {
		a.Height = o.first.height
		b.Y, b.Height = r.Y+a.Height+n.kerf, r.Height-a.Height-n.kerf
		s.cut(r.X, b.Y-n.kerf, r.X+r.Width, b.Y-n.kerf, b.Height)
	}
	n.realise(s, o.first, blocks, a)
	n.realise(s, o.second, blocks, b)
}
