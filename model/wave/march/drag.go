package march

import (
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
)

// dragFaces are the faces across one axis that have flow resistance: porous material and permeable
// sheets. Like irregular cells they come in groups and kinds.
//
// The air has mass m, a limp skeleton has mass s, and r acts on their difference d = u - v:
//
//	m du/dt + r d = Δp + F,   s dv/dt = r d - F
//
// With r taken as the mean of before and after, one state per face is enough:
//
//	d after = K d + A Δp + E F,   δu = C (Δp + F) - D (d + d after)
//
// The cells need only the change of u, as the pressure that it takes from a whole cell of air.
//
// Between two faces the velocity changes linearly, and with it the drag. A cell of resistance σ has
//
//	∫ σ d² dx = a d0² + b d1² - c (d0 - d1)²,   c = ∫ σ ξ(1-ξ) dx
//
// of which a and b are in r. The rest is F = c (d0 - d1) on either face, from the step before.
// Without it a layer of one cell would have half its resistance instead of a third.
type dragFaces struct {
	stride int // from the lower cell of a face to the upper one
	groups[dragKind]
}

// dragKind is what a group of faces is made of: its coefficients (c and d are for pressures) and
// the couplings in the lower and the upper cell, Pa·s/m. A face without drag has none of them and
// stands still.
type dragKind struct {
	k, a, e, c, d             octet
	couplingLow, couplingHigh octet
	from, to                  int // the lanes that have drag
}

// set makes lane l of a group this face, for a step in s and the pressure in Pa that a velocity
// takes from a whole cell in one step.
func (k *dragKind) set(l int, n lattice.Drag, step, gain float64) {
	own := step / n.Mass
	inverse := own
	if n.Skeleton > 0 {
		inverse += step / n.Skeleton
	}
	if k.to == 0 {
		k.from = l
	}
	k.to = l + 1
	half := n.Resistance * inverse / 2
	k.k[l] = float32((1 - half) / (1 + half))
	k.a[l], k.e[l] = float32(own/(1+half)), float32(inverse/(1+half))
	k.c[l], k.d[l] = float32(gain*own), float32(gain*own*n.Resistance/2)
	k.couplingLow[l], k.couplingHigh[l] = float32(n.CouplingLow), float32(n.CouplingHigh)
}

// portable computes the flow of one step through all groups. was and is hold the slip d before and
// after, m/s.
func (f *dragFaces) portable(flow, was, is, now []float32) {
	for _, g := range f.list {
		k, i := g.kind, g.at
		low, high := (*octet)(now[i:]), (*octet)(now[i+f.stride:])
		before, here, after := (*octet)(was[i-f.stride:]), (*octet)(was[i:]), (*octet)(was[i+f.stride:])
		change, slip := (*octet)(flow[i:]), (*octet)(is[i:])
		for l := k.from; l < k.to; l++ {
			d, p := here[l], low[l]-high[l]
			tie := k.couplingLow[l]*(d-before[l]) + k.couplingHigh[l]*(d-after[l])
			then := k.k[l]*d + k.a[l]*p + k.e[l]*tie
			change[l] = k.c[l]*(p+tie) - k.d[l]*(d+then)
			slip[l] = then
		}
	}
}

// addDrag collects the faces with flow resistance.
func (s *System) addDrag() {
	if !s.Resists() {
		return
	}
	for a := range s.drag {
		f := &s.drag[a]
		f.stride = s.Stride[a]
		var list groupList[dragKind]
		s.eachGroup(s.rows, func(first int) {
			var k dragKind
			for l := range vector.Lanes {
				s.setDrag(&k, l, a, first+l)
			}
			if k != (dragKind{}) {
				list.add(first, k)
			}
		})
		f.groups = list.sorted()
	}
}

// setDrag makes lane l of a group the face across axis a above cell i, if that has drag.
func (s *System) setDrag(k *dragKind, l, a, i int) {
	if n, ok := s.Medium.Drag(a, i); ok {
		air := s.Medium.Air
		k.set(l, n, s.Step, s.Step*air.Density*air.Speed*air.Speed*n.Covered*n.Open/s.H[a])
	}
}
