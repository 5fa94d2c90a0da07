package wave

import "math/bits"

// oddCells are the cells that the even stencil does not fit: at cuts, at porous
// material, at solids. They are marched in groups that lie side by side along x,
// those among them that are even as well; what is solid or beyond the row has no
// weights and stays at zero.
type oddCells struct {
	stride [3]int
	groups
	kinds []oddKind
}

// oddKind is what a group of odd cells is made of.
type oddKind struct {
	near  octets // weights of the neighbours, in the order of [neighbours]
	self  octet  // weight of the pressure itself
	gain  octet  // pressure per inflow through drag faces
	heat  heat   // of no meaning unless hot
	lanes uint8  // bit by bit: the cells that there are
	air   uint8  // likewise: those that have neighbours without drag
	drag  bool   // there are drag faces
	hot   bool   // there are heat times
}

// octets holds one octet for each of the neighbours across faces and edges.
type octets [18]octet

// portable takes the groups of a part one step, cell after cell.
func (o *oddCells) portable(z *state, next, now []float32, part []stretch) {
	offsets := neighbours(o.stride)
	for _, s := range part {
		o.portableStretch(z, next, now, s, &offsets)
	}
}

func (o *oddCells) portableStretch(z *state, next, now []float32, s stretch, offsets *[18]int) {
	k := &o.kinds[s.kind]
	lags := z.lag[s.from:s.to]
	for n, at := range o.cells(s) {
		lag := &lags[n]
		for left := k.lanes; left != 0; left &= left - 1 {
			l := bits.TrailingZeros8(left)
			i := int(at) + l
			p, before := now[i], next[i]
			if k.hot {
				before, lag[l] = k.heat.relax(l, before, p, lag[l])
			}
			sum := k.self[l]*p - before
			if k.air>>l&1 != 0 {
				sum += k.near.sum(l, now, i, offsets)
			}
			if k.drag {
				sum += k.gain[l] * z.inflow(i, o.stride)
			}
			next[i] = sum
		}
	}
}

// inflow returns what flows into a cell through its drag faces.
func (z *state) inflow(i int, stride [3]int) float32 {
	x, y, z0 := z.flow[0], z.flow[1], z.flow[2]
	return (x[i-1] - x[i]) + (y[i-stride[1]] - y[i]) + (z0[i-stride[2]] - z0[i])
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
