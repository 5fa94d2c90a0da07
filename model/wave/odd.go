package wave

import "math/bits"

// octet is one value for each cell of a group.
type octet [lanes]float32

// oddCells are the cells that the even stencil does not fit: at cuts, at porous
// material, at solids. They are marched in groups that lie side by side along x,
// those among them that are even as well; what is solid or beyond the row has no
// weights and stays at zero.
//
// Within a slab of material most groups are alike, so that each names its kind and
// the kinds stay in the cache.
type oddCells struct {
	stride [3]int
	at     []int32 // first cell of each group, ascending
	kind   []int32
	kinds  []oddKind
}

// oddKind is what a group of odd cells is made of.
type oddKind struct {
	near  octets  // weights of the neighbours, in the order of [neighbours]
	self  octet   // weight of the pressure itself
	gain  octet   // pressure per inflow through drag faces
	heat  heat    // of no meaning unless hot
	lanes uint8   // bit by bit: the cells that there are
	air   uint8   // likewise: those that have neighbours without drag
	drag  [3]bool // which axes have drag faces
	hot   bool    // there are heat times
}

// octets holds one octet for each of the neighbours across faces and edges.
type octets [18]octet

// portable takes the groups from..to one step, cell after cell.
func (o *oddCells) portable(z *state, next, now []float32, from, to int) {
	offsets := neighbours(o.stride)
	for n := from; n < to; n++ {
		k := &o.kinds[o.kind[n]]
		lag := &z.lag[n]
		for left := k.lanes; left != 0; left &= left - 1 {
			l := bits.TrailingZeros8(left)
			i := int(o.at[n]) + l
			p, before := now[i], next[i]
			if k.hot {
				before, lag[l] = k.heat.relax(l, before, p, lag[l])
			}
			sum := k.self[l]*p - before
			if k.air>>l&1 != 0 {
				sum += k.near.sum(l, now, i, &offsets)
			}
			for a, drag := range k.drag {
				if drag {
					sum += k.gain[l] * (z.flow[a][i-o.stride[a]] - z.flow[a][i])
				}
			}
			next[i] = sum
		}
	}
}

// sum returns what the neighbours of cell i give, which is lane l of a group. Two
// sums side by side do not wait for one another.
func (w *octets) sum(l int, now []float32, i int, offsets *[18]int) float32 {
	var even, odd float32
	l &= lanes - 1 // which it is, but here the compiler sees it
	for n := 0; n < len(w); n += 2 {
		even += w[n][l] * now[i+offsets[n]]
		odd += w[n+1][l] * now[i+offsets[n+1]]
	}
	return even + odd
}
