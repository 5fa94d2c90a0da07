package march

import (
	"math/bits"

	"evenbass/model/wave/vector"
)

// irregularCells are the cells that the uniform stencil does not fit: at cuts, at porous material,
// at solids. They come in groups side by side along x, which may include uniform cells. Solid cells
// and ghosts in a group have no weights and stay at zero.
type irregularCells struct {
	stride [3]int
	hot    groups[irregularKind] // with heat times, and mostly with drag faces
	drag   groups[irregularKind] // with drag faces
	plain  groups[irregularKind] // with neither
}

// irregularKind is what a group of irregular cells is made of.
type irregularKind struct {
	near  octets // weights of the neighbours, in the order of [neighbourOffsets]
	self  octet  // weight of the pressure itself
	gain  octet  // pressure per inflow through drag faces
	heat  heat   // only used if hot
	lanes uint8  // bit set of the cells with air
	air   uint8  // likewise of those with neighbours without drag
	drag  bool   // there may be drag faces
	hot   bool   // there are heat times

	_ [28]byte // so that no octet lies in two cache lines
}

// octets holds one octet for each of the neighbours across faces and edges.
type octets [18]octet

// portable takes all groups one step, cell by cell.
func (o *irregularCells) portable(z *state, next, now []float32) {
	for n, g := range o.hot.list {
		g.kind.portable(z, &z.lag[n], next, now, g.at, o.stride)
	}
	for _, part := range [2][]group[irregularKind]{o.drag.list, o.plain.list} {
		for _, g := range part {
			g.kind.portable(z, nil, next, now, g.at, o.stride)
		}
	}
}

// portable takes the group that begins at a cell one step. Only hot ones have a lagging pressure.
func (k *irregularKind) portable(z *state, lag *octet, next, now []float32, at int, stride [3]int) {
	var near lines
	if k.air != 0 {
		sy, sz := stride[1], stride[2]
		near.set(0, now[at-1-sz-sy:], sy)
		near.set(3, now[at-1-sy:], sy)
		near.set(6, now[at-1+sz-sy:], sy)
	}
	mid, out := (*octet)(now[at:]), (*octet)(next[at:])
	for left := k.lanes; left != 0; left &= left - 1 {
		l := bits.TrailingZeros8(left) & (vector.Lanes - 1) // no change, but it lets the compiler drop bounds checks
		p, before := mid[l], out[l]
		if k.hot {
			before, lag[l] = k.heat.relax(l, before, p, lag[l])
		}
		sum := k.self[l]*p - before
		if k.air>>l&1 != 0 {
			sum += k.near.sum(l, &near)
		}
		if k.drag {
			sum += k.gain[l] * z.inflow(at+l, stride)
		}
		out[l] = sum
	}
}

// lines are the nine rows of cells around a group, each one cell longer at both ends: by z, then by
// y.
type lines [9]*line

// line is the cells of one row around a group.
type line [vector.Lanes + 2]float32

// set takes the three rows at one z from the cells p on.
func (n *lines) set(first int, p []float32, sy int) {
	n[first], n[first+1], n[first+2] = (*line)(p), (*line)(p[sy:]), (*line)(p[2*sy:])
}

// inflow returns what flows into a cell through its drag faces.
func (z *state) inflow(i int, stride [3]int) float32 {
	x, y, z0 := z.flow[0], z.flow[1], z.flow[2]
	return (x[i-1] - x[i]) + (y[i-stride[1]] - y[i]) + (z0[i-stride[2]] - z0[i])
}

// sum returns the contribution of the neighbours of lane l. Three independent sums keep the
// processor busy.
func (w *octets) sum(l int, n *lines) float32 {
	l &= vector.Lanes - 1
	low := w[0][l]*n[0][l+1] + w[1][l]*n[1][l] + w[2][l]*n[1][l+1] + w[3][l]*n[1][l+2] + w[4][l]*n[2][l+1]
	mid := w[5][l]*n[3][l] + w[6][l]*n[3][l+1] + w[7][l]*n[3][l+2] + w[8][l]*n[4][l] +
		w[9][l]*n[4][l+2] + w[10][l]*n[5][l] + w[11][l]*n[5][l+1] + w[12][l]*n[5][l+2]
	high := w[13][l]*n[6][l+1] + w[14][l]*n[7][l] + w[15][l]*n[7][l+1] + w[16][l]*n[7][l+2] + w[17][l]*n[8][l+1]
	return low + mid + high
}

// neighbourOffsets returns the offsets of the 18 cells across the faces and edges of a cell, lowest
// first.
func neighbourOffsets(stride [3]int) (offsets [18]int) {
	n := 0
	for dz := -1; dz <= 1; dz++ {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if d := dx*dx + dy*dy + dz*dz; d == 1 || d == 2 {
					offsets[n] = dx + dy*stride[1] + dz*stride[2]
					n++
				}
			}
		}
	}
	return offsets
}
